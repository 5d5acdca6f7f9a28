/** Characters of a cell that are shown in a message. */
const shownLength = 60;

/** Controls, and the characters that turn the direction of writing or hide: they could disguise what a message says. */
const unseen = /[\p{Cc}\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/gu;

function visible(character: string): string {
  const code = character.codePointAt(0) ?? 0;
  if (code < 0x20) return String.fromCodePoint(0x2400 + code);
  return `\\u${code.toString(16).padStart(4, "0")}`;
}

/** A cell's text for a message: clipped to sixty characters, with control and invisible characters made visible. */
export function showValue(text: string): string {
  const characters = Array.from(text.slice(0, shownLength * 2 + 2));
  const clipped = characters.length > shownLength || text.length > shownLength * 2 + 2;
  const start = clipped ? `${characters.slice(0, shownLength).join("")}…` : text;
  return start.replace(unseen, visible);
}
