/**
 * Text in the form in which words of all languages are compared: lower case, no accents, ß as ss,
 * and ö, oe, o alike (a log written without umlauts must read the same).
 */
export function folded(text: string): string {
  return text
    .normalize('NFD')
    .replaceAll(/\p{Mn}/gu, '')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replaceAll('œ', 'o')
    .replaceAll('æ', 'a')
    .replaceAll(/([aou])e/g, '$1');
}

/**
 * The words of a column name as written: split at signs, at camelCase, and between letters and digits.
 * `EGTCyl3` gives EGT, Cyl, 3; dP and ΔP are one word; `engineSpeed_rpm` gives engine, Speed, rpm; units such as km/h or m² stay in the brackets read before.
 */
export function words(name: string): readonly string[] {
  return name
    .replaceAll(/(?<!\p{L})[dΔ∆]P(?!\p{L})/gu, 'dp')
    .replaceAll(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replaceAll(/(\p{Lu}+)(\p{Lu}\p{Ll}{2,})/gu, '$1 $2')
    .replaceAll(/(\p{L})(\p{N})/gu, '$1 $2')
    .replaceAll(/(\p{N})(\p{L})/gu, '$1 $2')
    .split(/[^\p{L}\p{N}\p{Mn}°%µ#]+/u)
    .filter((word) => word !== '');
}
