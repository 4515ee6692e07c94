import { paths } from '../client/paths.ts';
import type { EntryAddress } from '../frame/address.ts';

const FORMATS = ['csv', 'parquet', 'json'] as const;

interface KeepProps {
  readonly address: EntryAddress;
  readonly curves: boolean;
  readonly channels: boolean;
}

/** Files to keep: what was worked out, and what was read, in SI units. */
export function KeepPart({ address, curves, channels }: KeepProps) {
  if (!curves && !channels) return null;
  return (
    <details>
      <summary>Keep it as a file</summary>
      {curves && <KeepLine address={address} part="curves" words="Curves of every pull, with every column named" />}
      {channels && <KeepLine address={address} part="channels" words="Channels as they were read, in SI units" />}
    </details>
  );
}

function KeepLine({
  address,
  part,
  words,
}: {
  readonly address: EntryAddress;
  readonly part: 'curves' | 'channels';
  readonly words: string;
}) {
  return (
    <p>
      {words}:{' '}
      {FORMATS.map((format) => (
        <span key={format}>
          <a href={paths.export(address, { part, format })} download aria-label={`${words}, ${format}`}>
            {format}
          </a>{' '}
        </span>
      ))}
    </p>
  );
}
