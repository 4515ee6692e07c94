import { answered, type Finding, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { DayFacts, EntryFacts } from '../../../day/pulls/index.ts';

/**
 * A day proposed from nothing but file names: files that differ only in which device wrote them form one entry.
 * A person confirms; the findings say what was guessed and what was left out.
 */
export function proposeDay(fileNames: readonly string[], title = 'Untitled day'): Outcome<DayFacts> {
  const taken = fileNames.filter(isLog).sort(byNumber);
  const logs = taken.filter((name) => !isSoundName(name));
  const sounds = taken.filter(isSoundName);
  if (taken.length === 0)
    return refused({
      kind: 'missing-logs',
      message: 'missing day.yaml and log files: there is nothing to read',
      numbers: { files: fileNames.length },
    });
  const groups = grouped(logs.length > 0 ? logs : sounds);
  const beside = logs.length > 0 ? soundsBeside(sounds, groups) : new Map<string, readonly string[]>();
  const entries = [...groups].flatMap(([id, files]) => entriesOf(id, files, beside.get(id)));
  const alone = logs.length > 0 ? sounds.filter((name) => ![...beside.values()].some((of) => of.includes(name))) : [];
  return answered(
    {
      title,
      place: {},
      vehicle: {},
      engine: {},
      roller: {},
      ambient: {},
      entries: withOwnIds(entries),
      mappings: [],
    },
    [...[...groups.values()].flatMap(pairingFindings), ...alone.map(soundAlone), ...leftOutFindings(fileNames, taken)],
  );
}

/** Whether a file may hold a log or a sound beside one, by the end of its name. */
export function isLog(name: string): boolean {
  const last = name.split('/').at(-1) ?? '';
  return !last.startsWith('.') && LOG_ENDINGS.has(last.split('.').at(-1)?.toLowerCase() ?? '') && last.includes('.');
}

const LOG_ENDINGS = new Set([
  'csv',
  'tsv',
  'txt',
  'dat',
  'log',
  'asc',
  'parquet',
  'arrow',
  'feather',
  'mf4',
  'mdf',
  'wav',
  'wave',
]);

/** Whether a file may hold a sound, by the end of its name. */
export function isSoundName(name: string): boolean {
  return /\.wave?$/i.test(name);
}

/** Words that name the device or the side. @source common practice, no source; several languages */
const DEVICE_WORDS = new Set(
  (
    'roller rollers roll rolls dyno dynamometer bench brake stand chassis rolle rollen pruefstand prüfstand rouleau rouleaux banc rullo rulli banco rodillo rodillos ' +
    'engine motor moteur motore ecu control car vehicle logger log logs data a b'
  ).split(' '),
);

/** Words that a sound's name has for the same reason; in the name of a log they may tell two runs apart. @source common practice, no source; several languages */
const SOUND_WORDS = new Set(
  'sound sounds audio mic microphone recording exhaust ton klang son suono sonido'.split(' '),
);

const COAST_WORDS = new Set(['coast', 'coastdown', 'coasting', 'rundown', 'ausrollen', 'auslauf', 'decel']);

function grouped(logs: readonly string[]): ReadonlyMap<string, readonly string[]> {
  const groups = new Map<string, string[]>();
  for (const name of logs) {
    const id =
      wordsOf(name)
        .filter((word) => !DEVICE_WORDS.has(word) && !(isSoundName(name) && SOUND_WORDS.has(word)))
        .map(withoutZeros)
        .join('-') || 'log';
    groups.set(id, [...(groups.get(id) ?? []), name]);
  }
  return joinedByNumber(groups);
}

/** Two lone files with the same numbers belong together too, whatever the device is called: `17_alpha.csv`, `17_beta.csv`. */
function joinedByNumber(groups: ReadonlyMap<string, readonly string[]>): ReadonlyMap<string, readonly string[]> {
  const lone = new Map<string, string[]>();
  for (const [id, files] of groups) if (files.length === 1) lone.set(runOf(id), [...(lone.get(runOf(id)) ?? []), id]);
  const joined = new Map<string, readonly string[]>();
  for (const [id, files] of groups) {
    const partners = files.length === 1 && numbersOf(id) !== '' ? (lone.get(runOf(id)) ?? []) : [];
    if (partners.length !== 2) joined.set(id, files);
    else if (partners[0] === id)
      joined.set(
        sharedId(partners),
        partners.flatMap((name) => groups.get(name) ?? []),
      );
  }
  return joined;
}

/** What two files of one run share at least: the numbers, and whether it was a coast-down. */
function runOf(id: string): string {
  return `${numbersOf(id)}|${isCoast(id)}`;
}

function sharedId([first = '', second = '']: readonly string[]): string {
  const other = new Set(second.split('-'));
  return first
    .split('-')
    .filter((word) => other.has(word))
    .join('-');
}

/** Sounds by the id of the group whose name they share, else of the only one that shares their numbers. */
function soundsBeside(
  sounds: readonly string[],
  groups: ReadonlyMap<string, readonly string[]>,
): ReadonlyMap<string, readonly string[]> {
  const beside = new Map<string, string[]>();
  const ids = [...groups].flatMap(([id, files]) => (files.length <= 2 ? [id] : []));
  for (const name of sounds) {
    const [own = ''] = grouped([name]).keys();
    const near = ids.filter((id) => numbersOf(own) !== '' && runOf(id) === runOf(own));
    const id = ids.includes(own) ? own : near.length === 1 ? near[0] : undefined;
    if (id !== undefined) beside.set(id, [...(beside.get(id) ?? []), name]);
  }
  return beside;
}

function soundAlone(name: string): Finding {
  return {
    kind: 'unclear-sound',
    weight: 'note',
    message: `${name} was left out: which log it belongs to cannot be told from its name`,
    place: { file: name },
  };
}

function entriesOf(id: string, files: readonly string[], sounds: readonly string[] = []): EntryFacts[] {
  const kind = isCoast(id) ? 'coast-down' : 'pull';
  if (files.length <= 2) return [{ id, kind, files: [...files, ...sounds], settings: {} }];
  return files.map((file) => ({ id, kind, files: [file], settings: {} }));
}

function withOwnIds(entries: readonly EntryFacts[]): EntryFacts[] {
  const used = new Set<string>();
  return entries.map((entry) => {
    let id = entry.id;
    for (let again = 2; used.has(id); again++) id = `${entry.id}-${again}`;
    used.add(id);
    return { ...entry, id };
  });
}

function pairingFindings(files: readonly string[]): Finding[] {
  if (files.length === 1) return [];
  if (files.length === 2)
    return [
      {
        kind: 'proposed-pair',
        weight: 'note',
        message: `${files.join(' and ')} were paired by their names; confirm that they belong to one run`,
        numbers: { files: files.join(', ') },
      },
    ];
  return [
    {
      kind: 'unclear-pair',
      weight: 'doubt',
      message: `${files.join(', ')} have the same name but for the device: which two belong together cannot be told, each stands alone`,
      numbers: { files: files.length },
    },
  ];
}

function leftOutFindings(all: readonly string[], logs: readonly string[]): Finding[] {
  const taken = new Set(logs);
  return all
    .filter((name) => !taken.has(name) && !name.split('/').at(-1)?.startsWith('.') && !/\.ya?ml$/i.test(name))
    .map((name) => ({
      kind: 'not-a-log',
      weight: 'note',
      message: `${name} was left out: its name does not end like a log's`,
      place: { file: name },
    }));
}

/** Words and numbers of a name, split at signs, at case and between letters and digits. */
function wordsOf(name: string): string[] {
  const stem = name.replace(/\.[^.]*$/, '').replaceAll(/(\p{Ll})(\p{Lu})/gu, '$1 $2');
  return stem.toLowerCase().match(/\p{L}+|\p{N}+/gu) ?? [];
}

function withoutZeros(word: string): string {
  return word.replace(/^0+(?=\d)/, '');
}

function numbersOf(id: string): string {
  return (id.match(/\d+/g) ?? []).join('-');
}

function isCoast(id: string): boolean {
  return id.split('-').some((word) => COAST_WORDS.has(word));
}

/** `run2` before `run10`, whatever the locale of the machine. */
function byNumber(a: string, b: string): number {
  return ORDER.compare(a, b);
}

const ORDER = new Intl.Collator('en', { numeric: true });
