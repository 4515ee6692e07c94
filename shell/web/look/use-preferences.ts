import { useSyncExternalStore } from 'react';
import { type Preferences, readPreferences, THEMES } from './preferences.ts';
import { type Writing, writingFor } from './writing.ts';

export type { Writing } from './writing.ts';

const NAME = 'knurl-preferences';
let current: Preferences = readPreferences(localStorage.getItem(NAME));
let written: { readonly by: Preferences; readonly writing: Writing } | undefined;
const listeners = new Set<() => void>();
showTheme();

export function usePreferences(): Preferences {
  return useSyncExternalStore(listen, () => current);
}

export function changePreferences(change: (former: Preferences) => Preferences): void {
  current = change(current);
  localStorage.setItem(NAME, JSON.stringify(current));
  showTheme();
  for (const tellIt of listeners) tellIt();
}

export function nextTheme(): void {
  changePreferences((former) => ({
    ...former,
    theme: THEMES[(THEMES.indexOf(former.theme) + 1) % THEMES.length] ?? former.theme,
  }));
}

/** Everything metric, or everything imperial when all was metric. */
export function switchAllUnits(): void {
  changePreferences((former) => {
    const system = Object.values(former.units).every((unit) => unit === 'metric') ? 'imperial' : 'metric';
    const units = {
      power: system,
      'torque and force': system,
      speed: system,
      pressure: system,
      temperature: system,
      'everything else': system,
    } as const;
    return { ...former, units };
  });
}

/** The same as long as the preferences are: what is drawn from it need not be drawn again. */
export function useWriting(): Writing {
  const preferences = usePreferences();
  if (written?.by !== preferences) written = { by: preferences, writing: writingFor(preferences) };
  return written.writing;
}

function listen(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function showTheme(): void {
  document.documentElement.dataset['theme'] = current.theme;
}
