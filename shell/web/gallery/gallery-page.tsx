import { Strip } from '../day/strip.tsx';
import { Legend } from '../drawing/legend.tsx';
import { Plot } from '../drawing/plot.tsx';
import { Sketch } from '../drawing/sketch.tsx';
import { Empty, Findings, InventedBanner, Loading, Refused } from '../frame/states.tsx';
import { StopPlate } from '../verdicts/stop-plate.tsx';
import { GALLERY_FINDINGS, GALLERY_PLOTS, GALLERY_SKETCHES, GALLERY_STRIPS } from './edge-cases.ts';

const STOPS = [
  { class: 0, word: 'note', meaning: 'A note has no plate.' },
  { class: 1, word: 'repeat', meaning: 'Mend it and repeat the pull.' },
  { class: 2, word: 'hold', meaning: 'No more load until the named check is done.' },
  { class: 3, word: 'end the day', meaning: 'End the day for this engine.' },
] as const;

/** Every part of the page at its borders: nothing, one point, all missing, far too many. */
export function GalleryPage() {
  return (
    <>
      <h1>Gallery</h1>
      <InventedBanner invented="Everything on this page is made up to show the parts at their borders." />
      <h2>Strips</h2>
      {GALLERY_STRIPS.map(({ title, entries }) => (
        <figure key={title}>
          <figcaption>{title}</figcaption>
          <Strip day="gallery" entries={entries} height={200} label={title} />
        </figure>
      ))}
      <h2>Drawings</h2>
      {GALLERY_PLOTS.map(({ title, spec }) => (
        <figure key={title}>
          <figcaption>{title}</figcaption>
          <Plot spec={spec} />
          {spec.lines.length <= 6 && <Legend lines={spec.lines} />}
        </figure>
      ))}
      <h2>Sketches</h2>
      <div className="button-line">
        {GALLERY_SKETCHES.map(({ title, values }) => (
          <figure key={title}>
            <Sketch values={values} label={title} />
            <figcaption>{title}</figcaption>
          </figure>
        ))}
      </div>
      <h2>States</h2>
      {STOPS.map((stop) => (
        <StopPlate key={stop.class} stop={stop} />
      ))}
      <Empty title="Nothing yet">
        <p>And what to do about it.</p>
      </Empty>
      <Loading what="Working" share={0.4} cancel={() => undefined} />
      <Refused
        refusal={{
          kind: 'missing-roll-speed',
          message: 'missing roll speed: no column holds it',
          place: { file: 'roller.csv', line: 4 },
        }}
      />
      <Findings findings={GALLERY_FINDINGS} />
    </>
  );
}
