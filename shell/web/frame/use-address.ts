import { useSyncExternalStore } from 'react';
import { type Address, addressOf, hashOf } from './address.ts';

let seen = { hash: location.hash, address: addressOf(location.hash) };

/** What the address bar says is being looked at. */
export function useAddress(): Address {
  return useSyncExternalStore(listen, () => {
    if (seen.hash !== location.hash) seen = { hash: location.hash, address: addressOf(location.hash) };
    return seen.address;
  });
}

/** Looks at something else; the back button returns. */
export function go(address: Address): void {
  location.hash = hashOf(address);
}

/** Looks at the same thing in another way; the back button does not stop here. */
export function turn(address: Address): void {
  history.replaceState(null, '', hashOf(address));
  dispatchEvent(new HashChangeEvent('hashchange'));
}

function listen(listener: () => void): () => void {
  addEventListener('hashchange', listener);
  return () => removeEventListener('hashchange', listener);
}
