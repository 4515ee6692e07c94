/**
 * What a file is that is not delimited text, in plain words; undefined when nothing speaks against text.
 * Only beginnings are looked at, so a text that merely mentions such a format stays a text.
 *
 * @param head first bytes of the file
 * @source the formats' published signatures: ZIP APPNOTE 4.3.7, RFC 1952, RFC 8878, PDF 32000-1, PNG, RFC 8259, Parquet and Arrow format pages
 */
export function foreignFormat(head: Uint8Array): string | undefined {
  for (const { signature, name } of SIGNATURES) {
    if (startsWith(head, signature)) return name === 'zip' ? zipContent(head) : name;
  }
  const text = ascii(head, 512).trimStart().toLowerCase();
  if (text.startsWith('<!doctype html') || text.startsWith('<html') || text.includes('<head>')) {
    return 'an HTML page (perhaps a download that asked for a log-in)';
  }
  if (text.startsWith('<?xml') || /^<[a-z]+[\s>]/.test(text)) return 'an XML file';
  if (/^\{\s*"/.test(text) || /^\[\s*[[{]/.test(text)) return 'a JSON file';
  return undefined;
}

function zipContent(head: Uint8Array): string {
  const text = ascii(head, 8192);
  const isSpreadsheet = text.includes('xl/') || text.includes('[Content_Types].xml') || text.includes('spreadsheet');
  return isSpreadsheet ? 'a spreadsheet workbook (save it as delimited text)' : 'a zip archive (unpack it first)';
}

function startsWith(head: Uint8Array, signature: readonly number[]): boolean {
  return head.length >= signature.length && signature.every((byte, i) => head[i] === byte);
}

function ascii(head: Uint8Array, length: number): string {
  return Array.from(head.subarray(0, length), (byte) => String.fromCharCode(byte)).join('');
}

function bytesOf(text: string): readonly number[] {
  return Array.from(text, (letter) => letter.charCodeAt(0));
}

const SIGNATURES: readonly { readonly signature: readonly number[]; readonly name: string }[] = [
  { signature: bytesOf('PK\x03\x04'), name: 'zip' },
  { signature: bytesOf('PK\x05\x06'), name: 'an empty zip archive' },
  { signature: [0x1f, 0x8b], name: 'a gzip archive (unpack it first)' },
  { signature: [0x28, 0xb5, 0x2f, 0xfd], name: 'a Zstandard archive (unpack it first)' },
  { signature: bytesOf('7z\xbc\xaf\x27\x1c'), name: 'a 7z archive (unpack it first)' },
  { signature: [0xd0, 0xcf, 0x11, 0xe0], name: 'an old office document (save it as delimited text)' },
  { signature: bytesOf('%PDF'), name: 'a PDF document' },
  { signature: bytesOf('\x89PNG'), name: 'a PNG picture' },
  { signature: [0xff, 0xd8, 0xff], name: 'a JPEG picture' },
  { signature: bytesOf('RIFF'), name: 'a sound or video file' },
  { signature: bytesOf('SQLite format 3'), name: 'a SQLite database' },
  { signature: bytesOf('MDF     '), name: 'an ASAM MDF measurement file' },
  { signature: bytesOf('PAR1'), name: 'a Parquet file' },
  { signature: bytesOf('ARROW1'), name: 'an Arrow file' },
  { signature: bytesOf('\x7fELF'), name: 'a program' },
];
