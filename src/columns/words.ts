/**
 * A text in the form in which words are compared: lower case, without accents or Arabic vowel signs, every run of other
 * characters than letters and digits as one underscore.
 */
export function plainWord(text: string): string {
  // Most names and codes are plain already; a file may have a hundred thousand columns.
  if (/^[a-z0-9]+(?:_[a-z0-9]+)*$/.test(text)) return text;
  return text
    .replace(/([a-z0-9])([A-Z])/g, "$1_$2")
    .replace(/n[°º]|№/gi, "no_")
    .normalize("NFD")
    .replace(/[\p{M}\u0640]/gu, "")
    .toLowerCase()
    .replace(/œ/g, "oe")
    .replace(/æ/g, "ae")
    .replace(/[ىی]/g, "ي")
    .replace(/ة/g, "ه")
    .replace(/[^\p{L}\p{N}]+/gu, "_")
    .replace(/^_+|_+$/g, "");
}

/** Whether one of the words of a name is among these. */
export function speaksOf(name: string, words: ReadonlySet<string>): boolean {
  return plainWord(name)
    .split("_")
    .some((word) => words.has(word));
}
