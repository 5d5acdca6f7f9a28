import type { Encoding } from "./table.js";

/** Bytes on each side of a sign beyond ASCII that are looked at for the rest of its word. */
const reach = 24;
/** Words looked at: more would say the same. */
const wordsLookedAt = 2000;

/** The words that hold a byte beyond ASCII, decoded, in the order of the file. */
function* wordsBeyondAscii(bytes: Uint8Array, codePage: Encoding, start: number): Generator<string> {
  const decoder = new TextDecoder(codePage);
  let at = start;
  while (at < bytes.length) {
    if ((bytes[at] ?? 0) < 0x80) {
      at += 1;
      continue;
    }
    const from = Math.max(start, at - reach);
    // One byte is one letter in a code page, so that places in the text are places in the bytes.
    // Asked for the whole at once, Node 20 reads Windows-1252 as Latin-1 and loses the likes of 'œ'; piece by piece it does not.
    const text = decoder.decode(bytes.subarray(from, at + reach), { stream: true });
    const before = /[\p{L}\p{M}]*$/u.exec(text.slice(0, at - from))?.[0] ?? "";
    const after = /^.[\p{L}\p{M}]*/su.exec(text.slice(at - from))?.[0] ?? "";
    yield before + after;
    at += Math.max(1, after.length);
  }
}

/** The first word that holds a byte beyond ASCII, decoded in the code page. */
export function sampleWord(bytes: Uint8Array, codePage: Encoding, start: number): string | undefined {
  return wordsBeyondAscii(bytes, codePage, start).next().value ?? undefined;
}

/** Two or more Arabic letters and nothing else: in a Latin text the letters with accents stand among plain ones. */
const arabicWord = /^[\p{Script=Arabic}\p{M}]{2,}$/u;

/**
 * The code page of a text that is not UTF-8. Windows-1256 where the settings say that the language is Arabic, or where most of
 * the words with a byte beyond ASCII are whole Arabic words in it; otherwise Windows-1252, that of Western Europe.
 */
export function likelyCodePage(bytes: Uint8Array, language: string | undefined): Encoding {
  if (language?.split("-")[0] === "ar") return "windows-1256";
  let arabic = 0;
  let all = 0;
  for (const word of wordsBeyondAscii(bytes, "windows-1256", 0)) {
    all += 1;
    if (arabicWord.test(word)) arabic += 1;
    if (all >= wordsLookedAt) break;
  }
  return arabic * 2 > all ? "windows-1256" : "windows-1252";
}
