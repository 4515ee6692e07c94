/** Text made safe for HTML, in element content and in quoted attributes. */
export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/** An element with plain text inside. */
export function element(tag: string, text: string): string {
  return `<${tag}>${escaped(text)}</${tag}>`;
}

/** A table; every cell is text. Columns named in `right` stand on the right. */
export function htmlTable(
  headings: readonly string[],
  rows: readonly (readonly string[])[],
  right: ReadonlySet<number> = new Set(),
): string {
  const cell = (tag: 'th' | 'td', text: string, i: number): string =>
    `<${tag}${tag === 'th' ? ' scope="col"' : ''}${right.has(i) ? ' class="number"' : ''}>${escaped(text)}</${tag}>`;
  const head = `<tr>${headings.map((text, i) => cell('th', text, i)).join('')}</tr>`;
  const body = rows.map((row) => `<tr>${row.map((text, i) => cell('td', text, i)).join('')}</tr>`).join('\n');
  return `<div class="table"><table><thead>${head}</thead><tbody>${body}</tbody></table></div>`;
}
