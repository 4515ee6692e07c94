/** What is being looked at. field: path of the fact to be written. back: the entry whose columns waited for a decision. The address bar owns it: a reload, a bookmark or the back button finds it again. */
export type Address =
  | { readonly page: 'days' }
  | { readonly page: 'day'; readonly day: string }
  | { readonly page: 'entry'; readonly day: string; readonly entry: string; readonly look: EntryLook }
  | {
      readonly page: 'overlay';
      readonly day: string;
      readonly entries?: string;
      readonly rule?: string;
      readonly of?: string;
    }
  | { readonly page: 'facts'; readonly day: string; readonly field?: string }
  | { readonly page: 'gate'; readonly day: string }
  | { readonly page: 'limits'; readonly day: string }
  | {
      readonly page: 'margins';
      readonly day: string;
      readonly at?: string;
      readonly goal?: string;
      readonly speed?: string;
    }
  | { readonly page: 'coverage'; readonly day: string; readonly channels?: string }
  | { readonly page: 'bring'; readonly day?: string; readonly sources: readonly string[]; readonly back?: string }
  | { readonly page: 'gallery' }
  | { readonly page: 'unknown'; readonly text: string };

export type EntryAddress = Extract<Address, { page: 'entry' }>;

/** How an entry is looked at. from, to: window on the record's clock [s]. show: ids of channels. */
export interface EntryLook {
  readonly pull: number;
  readonly against: 'time' | 'engine-speed';
  readonly from?: number;
  readonly to?: number;
  readonly show?: readonly string[];
}

export const PLAIN_LOOK: EntryLook = { pull: 0, against: 'time' };

/** The address that a hash such as `#/day/plateau/pull-1?against=time` means. */
export function addressOf(hash: string): Address {
  const [path = '', query = ''] = hash.replace(/^#?\/?/, '').split('?', 2);
  const [page = '', ...parts] = path.split('/').map(decoded);
  const asked = new URLSearchParams(query);
  if (page === '') return { page: 'days' };
  if (page === 'gallery') return { page: 'gallery' };
  if (page === 'bring')
    return {
      page: 'bring',
      ...optional('day', asked.get('day')),
      sources: listOf(asked.get('sources')),
      ...optional('back', asked.get('back')),
    };
  if (page === 'day' && parts[0]) return dayAddress(parts[0], parts.slice(1), asked);
  return { page: 'unknown', text: path };
}

function dayAddress(day: string, [part, id]: readonly string[], asked: URLSearchParams): Address {
  switch (part) {
    case undefined:
      return { page: 'day', day };
    case 'gate':
    case 'limits':
      return { page: part, day };
    case 'facts':
      return { page: 'facts', day, ...optional('field', asked.get('field')) };
    case 'margins':
      return {
        page: 'margins',
        day,
        ...optional('at', asked.get('at')),
        ...optional('goal', asked.get('goal')),
        ...optional('speed', asked.get('speed')),
      };
    case 'coverage': {
      const channels = asked.get('channels');
      // No channel at all is an answer of its own.
      return { page: 'coverage', day, ...(channels !== null && { channels }) };
    }
    case 'overlay':
      return {
        page: 'overlay',
        day,
        ...optional('entries', asked.get('entries')),
        ...optional('rule', asked.get('rule')),
        ...optional('of', asked.get('of')),
      };
    case 'entry':
      return id
        ? { page: 'entry', day, entry: id, look: lookOf(asked) }
        : { page: 'unknown', text: `day/${day}/entry` };
    default:
      return { page: 'unknown', text: `day/${day}/${part}` };
  }
}

function lookOf(asked: URLSearchParams): EntryLook {
  const [from, to] = [numberOf(asked.get('from')), numberOf(asked.get('to'))];
  const pull = numberOf(asked.get('pull')) ?? 0;
  return {
    pull: Number.isInteger(pull) && pull >= 0 ? pull : 0,
    against: asked.get('against') === 'engine-speed' ? 'engine-speed' : 'time',
    ...(from !== undefined && to !== undefined && from < to && { from, to }),
    ...(asked.get('show') !== null && { show: listOf(asked.get('show')) }),
  };
}

/** The hash of an address: `addressOf(hashOf(a))` is `a`. */
export function hashOf(address: Address): string {
  switch (address.page) {
    case 'days':
      return '#/';
    case 'gallery':
      return '#/gallery';
    case 'unknown':
      return `#/${address.text}`;
    case 'bring':
      return withQuery('#/bring', {
        day: address.day,
        sources: address.sources.join(',') || undefined,
        back: address.back,
      });
    case 'day':
      return `#/day/${encodeURIComponent(address.day)}`;
    case 'coverage':
      return withQuery(`#/day/${encodeURIComponent(address.day)}/coverage`, { channels: address.channels });
    case 'facts':
      return withQuery(`#/day/${encodeURIComponent(address.day)}/facts`, { field: address.field });
    case 'margins': {
      const { day, at, goal, speed } = address;
      return withQuery(`#/day/${encodeURIComponent(day)}/margins`, { at, goal, speed });
    }
    case 'overlay': {
      const { day, entries, rule, of } = address;
      return withQuery(`#/day/${encodeURIComponent(day)}/overlay`, { entries, rule, of });
    }
    case 'entry':
      return entryHash(address);
    default:
      return `#/day/${encodeURIComponent(address.day)}/${address.page}`;
  }
}

function entryHash({ day, entry, look }: Extract<Address, { page: 'entry' }>): string {
  return withQuery(`#/day/${encodeURIComponent(day)}/entry/${encodeURIComponent(entry)}`, {
    pull: look.pull === 0 ? undefined : String(look.pull),
    against: look.against === 'time' ? undefined : look.against,
    from: look.from?.toString(),
    to: look.to?.toString(),
    show: look.show?.join(','),
  });
}

function withQuery(path: string, parts: Readonly<Record<string, string | undefined>>): string {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(parts)) if (value !== undefined) query.set(name, value);
  const text = query.toString();
  return text === '' ? path : `${path}?${text}`;
}

function listOf(text: string | null): readonly string[] {
  return (text ?? '').split(',').filter((part) => part !== '');
}

function numberOf(text: string | null): number | undefined {
  const value = text === null || text === '' ? Number.NaN : Number(text);
  return Number.isFinite(value) ? value : undefined;
}

function optional<Name extends string>(name: Name, value: string | null): { readonly [Key in Name]?: string } {
  return value === null || value === '' ? {} : ({ [name]: value } as { readonly [Key in Name]?: string });
}

/** Text of one part of the path; a part that is not well encoded stays as it is. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
