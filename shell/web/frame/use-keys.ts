import { useEffect } from 'react';
import { nextTheme, switchAllUnits, usePreferences } from '../look/use-preferences.ts';
import type { Address } from './address.ts';
import { type KeyAction, keyAction } from './key-map.ts';
import { go } from './use-address.ts';

/** Actions that only the page in view can do. Sent as an event named `knurl-key`. */
export type PageKey = Extract<KeyAction['kind'], 'turn-axis' | 'before' | 'after' | 'undo'>;

/** Listens for single keys, unless somebody is writing or has switched them off. */
export function useKeys(address: Address, showKeys: () => void): void {
  const { keys } = usePreferences();
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isWriting(event.target)) return;
      if (!keys && event.key !== '?') return;
      const action = keyAction(event.key, address);
      if (!action || document.querySelector('dialog[open]')) return;
      event.preventDefault();
      perform(action, showKeys);
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, [address, keys, showKeys]);
}

function perform(action: KeyAction, showKeys: () => void): void {
  switch (action.kind) {
    case 'go':
      go(action.to);
      break;
    case 'keys':
      showKeys();
      break;
    case 'theme':
      nextTheme();
      break;
    case 'units':
      switchAllUnits();
      break;
    default:
      dispatchEvent(new CustomEvent('knurl-key', { detail: action.kind }));
  }
}

/** Runs `act` when the key of that action is pressed while this page is in view. */
export function usePageKey(key: PageKey, act: () => void): void {
  useEffect(() => {
    const press = (event: Event) => {
      if (event instanceof CustomEvent && event.detail === key) act();
    };
    addEventListener('knurl-key', press);
    return () => removeEventListener('knurl-key', press);
  }, [key, act]);
}

function isWriting(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  // A box, a choice or a slider takes arrows and space, not letters.
  if (target instanceof HTMLInputElement && ['checkbox', 'radio', 'range'].includes(target.type)) return false;
  return target.isContentEditable || ['INPUT', 'SELECT', 'TEXTAREA'].includes(target.tagName);
}
