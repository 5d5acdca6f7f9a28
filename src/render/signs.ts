import type { Reading } from "../results/schema.js";
import { OwnMarkup } from "./markup.js";

const shapes: Readonly<Record<Reading, string>> = {
  expected: '<circle cx="8" cy="8" r="5.6"/>',
  explain: '<circle cx="8" cy="8" r="5.6"/><path class="sign-fill" d="M8 2.4a5.6 5.6 0 0 0 0 11.2z"/>',
  doubt: '<circle class="sign-fill" cx="8" cy="8" r="5.6"/>',
  unknown: '<path d="M2.4 8h11.2"/>',
};

/** The sign of a reading: open, half and full circle, or a dash. Its word always stands beside it. */
export function readingSign(reading: Reading): OwnMarkup {
  return new OwnMarkup(
    `<svg class="sign" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true" focusable="false">${shapes[reading]}</svg>`,
  );
}
