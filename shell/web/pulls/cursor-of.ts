import { type Cursor, makeCursor } from '../drawing/cursor.ts';

const cursors = new Map<string, Cursor>();

/** The cursor of one entry's drawings: curve, traces and chain share it. It lasts as long as the page is open. */
export function cursorOf(day: string, entry: string): Cursor {
  const name = `${day} ${entry}`;
  const found = cursors.get(name) ?? makeCursor();
  cursors.set(name, found);
  return found;
}
