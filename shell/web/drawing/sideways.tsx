import type { ReactNode } from 'react';

/** Something wider than a small screen: it scrolls sideways by itself, by keyboard too. name: what it is, for screen readers. */
export function Sideways({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways on a small screen, so the keyboard must reach it
    <section className="scroll" tabIndex={0} aria-label={name}>
      {children}
    </section>
  );
}
