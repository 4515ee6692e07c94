import { type Desk, openDesk } from '../desk/index.ts';
import type { Asked, ExitCode, Surroundings } from './command.ts';
import { refuse } from './refuse.ts';

/** Opens the desk on the person's store, runs, and closes it whatever happens. */
export async function withDesk(
  asked: Asked,
  surroundings: Surroundings,
  use: (desk: Desk) => Promise<ExitCode>,
): Promise<ExitCode> {
  const opened = await openDesk({ directory: asked.text('store') ?? surroundings.home, now: surroundings.now });
  if (!opened.ok) return refuse(opened.refusal, surroundings);
  try {
    return await use(opened.value);
  } finally {
    opened.value.close();
  }
}
