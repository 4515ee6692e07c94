import { type ReactNode, useEffect, useRef, useState } from 'react';
import { type Address, hashOf } from './address.ts';
import { KeysDialog } from './keys-dialog.tsx';
import { SettingsDialog } from './settings-dialog.tsx';
import { useKeys } from './use-keys.ts';

type Open = 'keys' | 'settings' | undefined;

/** Head, ways to other questions, and the page itself. */
export function Frame({ address, children }: { readonly address: Address; readonly children: ReactNode }) {
  const [open, setOpen] = useState<Open>();
  const main = useRef<HTMLElement>(null);
  const close = () => setOpen(undefined);
  useKeys(address, () => setOpen('keys'));
  const place = placeOf(address);
  // A new page begins at its beginning, for the eye and for the keyboard. The first load leaves the focus alone.
  const former = useRef(place);
  useEffect(() => {
    document.title = `${TITLES[address.page]} – Knurl`;
    if (former.current === place) return;
    former.current = place;
    scrollTo(0, 0);
    main.current?.focus({ preventScroll: true });
  }, [place, address.page]);
  return (
    <>
      <button type="button" className="skip" onClick={() => main.current?.focus()}>
        Skip to the content
      </button>
      <header className="head">
        <a className="mark" href="#/">
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <path d="M1 15L15 1M1 8L8 1M8 15L15 8" />
          </svg>
          Knurl
        </a>
        <Ways address={address} />
        <div className="head-end">
          <button type="button" onClick={() => setOpen('settings')}>
            Light and units
          </button>
          <button type="button" onClick={() => setOpen('keys')} aria-label="Keyboard map">
            ?
          </button>
        </div>
      </header>
      <main id="content" tabIndex={-1} ref={main}>
        {children}
      </main>
      <footer className="foot">
        Advice, not protection. The operator’s judgement and the rules of the site prevail.
      </footer>
      {open === 'keys' && <KeysDialog close={close} />}
      {open === 'settings' && <SettingsDialog close={close} />}
    </>
  );
}

/** The questions that can be asked of the day that is open. */
function Ways({ address }: { readonly address: Address }) {
  const day = 'day' in address ? address.day : undefined;
  const ways: readonly { readonly title: string; readonly to: Address }[] =
    day === undefined
      ? [
          { title: 'All days', to: { page: 'days' } },
          { title: 'Bring logs in', to: { page: 'bring', sources: [] } },
        ]
      : [
          { title: 'What happened?', to: { page: 'day', day } },
          { title: 'Side by side', to: { page: 'overlay', day } },
          { title: 'What is known?', to: { page: 'facts', day } },
          { title: 'What would show?', to: { page: 'coverage', day } },
          { title: 'What comes first?', to: { page: 'margins', day } },
          { title: 'What decides?', to: { page: 'limits', day } },
          { title: 'Before a pull', to: { page: 'gate', day } },
          { title: 'Bring logs in', to: { page: 'bring', day, sources: [] } },
        ];
  return (
    <nav aria-label="Questions">
      <ul>
        {ways.map(({ title, to }) => (
          <li key={title}>
            <a href={hashOf(to)} aria-current={to.page === address.page ? 'page' : undefined}>
              {title}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

const TITLES: Readonly<Record<Address['page'], string>> = {
  days: 'Days',
  day: 'The day',
  entry: 'A pull',
  overlay: 'Side by side',
  facts: 'What is known',
  limits: 'What decides',
  margins: 'What comes first',
  coverage: 'What would show',
  gate: 'Before a pull',
  bring: 'Bring logs in',
  gallery: 'Gallery',
  unknown: 'Nothing here',
};

function placeOf(address: Address): string {
  return [address.page, 'day' in address ? address.day : '', address.page === 'entry' ? address.entry : ''].join(' ');
}
