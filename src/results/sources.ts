import type { Source } from "./schema.js";

/**
 * Every source the project relies on, with how far it was confirmed by its authors: 'confirmed' was read in the source,
 * 'partly' its gist was seen, 'memory' was not seen, 'practice' is common practice without a source, 'computed' was
 * derived here. A source that was not read is printed as such.
 */
const list: readonly Source[] = [
  {
    id: "who-2006",
    reference:
      "WHO Multicentre Growth Reference Study Group. WHO Child Growth Standards: length/height-for-age, weight-for-age, weight-for-length, weight-for-height and body mass index-for-age: methods and development. Geneva: World Health Organization; 2006.",
    status: "confirmed",
  },
  {
    id: "who-2007",
    reference:
      "WHO Multicentre Growth Reference Study Group. WHO Child Growth Standards: head circumference-for-age, arm circumference-for-age, triceps skinfold-for-age and subscapular skinfold-for-age: methods and development. Geneva: World Health Organization; 2007.",
    status: "partly",
  },
];

export const sources: ReadonlyMap<string, Source> = new Map(list.map((source) => [source.id, source]));
