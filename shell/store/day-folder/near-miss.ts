/** The known word that a person most likely meant, or undefined when none is near. */
export function nearMiss(word: string, known: readonly string[]): string | undefined {
  const most = Math.max(1, Math.floor(word.length / 3));
  const ranked = known
    .map((candidate) => ({ candidate, distance: distance(word.toLowerCase(), candidate.toLowerCase()) }))
    .filter((pair) => pair.distance <= most)
    .sort((a, b) => a.distance - b.distance);
  return ranked[0]?.candidate;
}

/** Edit distance of V. I. Levenshtein (1966): insertions, deletions, substitutions. */
function distance(a: string, b: string): number {
  if (Math.abs(a.length - b.length) > LONGEST || a.length > LONGEST) return LONGEST;
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const changed = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(changed, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}

/** No key is longer; longer words are not compared. */
const LONGEST = 100;
