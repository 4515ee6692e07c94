/** What a person must know before acting on a page; nothing where there is nothing to say. */
export function CautionsPart({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return undefined;
  return (
    <section aria-labelledby="cautions">
      <h2 id="cautions">Cautions</h2>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  );
}
