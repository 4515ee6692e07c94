/** What is wrong with a file name that a day gives, in the words "expected …"; undefined when it stays inside the folder. */
export function fileNameProblem(name: string): string | undefined {
  if (name.trim() === '') return 'the name of a file';
  if (name.length > LONGEST_NAME) return `a file name of at most ${LONGEST_NAME} characters`;
  if (/^[/\\~]|^[A-Za-z]:/.test(name)) return 'a name inside the folder, not an absolute path';
  if (name.includes('\\')) return 'a name with / between folders';
  if (name.split('/').some((part) => part === '..')) return 'a name inside the folder, without ..';
  if (name.split('/').some((part) => part === '' || part === '.')) return 'a name without empty parts';
  if ([...name].some((letter) => letter < ' ' || letter === '\u007f')) return 'a name without control characters';
  if (name.toLowerCase() === 'day.yaml') return 'a log file; day.yaml is the day itself';
  return undefined;
}

/** @source our default: file systems take 255 bytes for one part */
const LONGEST_NAME = 500;
