import { existsSync } from 'node:fs';
import type { Mapping } from '../../day/channels/index.ts';
import { openStore } from '../store/index.ts';
import type { Asked, Surroundings } from './command.ts';

/** Looks up what was decided before for a set of columns. Without a store nothing was decided; none is made for looking. */
export async function recalled(
  asked: Asked,
  { home }: Surroundings,
): Promise<(columnSet: string) => Mapping | undefined> {
  const directory = asked.text('store') ?? home;
  if (!existsSync(directory)) return () => undefined;
  const store = await openStore(directory);
  if (!store.ok) return () => undefined;
  return (columnSet) => {
    const found = store.value.mapping(columnSet);
    return found.ok ? found.value : undefined;
  };
}
