import { BringPage } from './channels/bring-page.tsx';
import { DayPage } from './day/day-page.tsx';
import { DaysPage } from './day/days-page.tsx';
import { FactsPage } from './facts/facts-page.tsx';
import { GatePage } from './facts/gate-page.tsx';
import type { Address } from './frame/address.ts';
import { Frame } from './frame/frame.tsx';
import { useAddress } from './frame/use-address.ts';
import { GalleryPage } from './gallery/gallery-page.tsx';
import { MarginsPage } from './limits/margins-page.tsx';
import { EntryPage } from './pulls/entry-page.tsx';
import { OverlayPage } from './pulls/overlay-page.tsx';
import { CoveragePage } from './verdicts/coverage-page.tsx';
import { LimitsPage } from './verdicts/limits-page.tsx';

/** The page that the address bar asks for, inside its frame. */
export function App() {
  const address = useAddress();
  return (
    <Frame address={address}>
      <PageOf address={address} />
    </Frame>
  );
}

function PageOf({ address }: { readonly address: Address }) {
  switch (address.page) {
    case 'days':
      return <DaysPage />;
    case 'day':
      return <DayPage day={address.day} />;
    case 'entry':
      return <EntryPage address={address} key={`${address.day} ${address.entry}`} />;
    case 'overlay':
      return <OverlayPage address={address} />;
    case 'facts':
      return <FactsPage address={address} />;
    case 'coverage':
      return <CoveragePage address={address} />;
    case 'limits':
      return <LimitsPage day={address.day} />;
    case 'margins':
      return <MarginsPage address={address} />;
    case 'gate':
      return <GatePage day={address.day} />;
    case 'bring':
      return <BringPage address={address} />;
    case 'gallery':
      return <GalleryPage />;
    case 'unknown':
      return (
        <>
          <h1>Nothing is here</h1>
          <p>
            unknown address: {address.text}. <a href="#/">All days</a>
          </p>
        </>
      );
  }
}
