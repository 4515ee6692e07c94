import { readFileSync, writeFileSync } from 'node:fs';
import { daySchema, keyTable } from '../shell/store/index.ts';

const FORMATS = `${import.meta.dirname}/../docs/formats`;
const BEGIN = '<!-- keys: written by tools/write-schema.ts -->';
const END = '<!-- end of keys -->';

/** What is made from the format's definition: the published schema and the tables of keys in its page. */
export interface FormatFiles {
  readonly schema: string;
  readonly page: string;
}

/** The two files as they should be now. @param page the page as it is */
export function formatFiles(page: string): FormatFiles {
  const [before, rest] = page.split(BEGIN);
  const after = rest?.split(END)[1];
  if (before === undefined || after === undefined)
    throw new Error(`day-folder.md has lost its marks ${BEGIN} … ${END}`);
  return {
    schema: `${JSON.stringify(daySchema(), undefined, 2)}\n`,
    page: `${before}${BEGIN}\n\n${keyTable()}\n\n${END}${after}`,
  };
}

/** The two files as they are. */
export function formatFilesThere(): FormatFiles {
  return {
    schema: readFileSync(`${FORMATS}/day.schema.json`, 'utf8'),
    page: readFileSync(`${FORMATS}/day-folder.md`, 'utf8'),
  };
}

if (import.meta.main) {
  const { schema, page } = formatFiles(readFileSync(`${FORMATS}/day-folder.md`, 'utf8'));
  writeFileSync(`${FORMATS}/day.schema.json`, schema);
  writeFileSync(`${FORMATS}/day-folder.md`, page);
}
