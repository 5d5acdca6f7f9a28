import { type RandomStream, randomStream, seedFor } from "../stats/random.js";

/**
 * What is drawn, each from its own stream, so that planting a fault or adding a stream moves nothing else: the clean
 * twin of a faulty survey has the same children, measured with the same small errors.
 */
export const purposes = [
  "cluster sizes",
  "cluster effects",
  "household effects",
  "house numbers",
  "ages",
  "sexes",
  "weight-for-height",
  "height-for-age",
  "arm-for-age",
  "oedema",
  "age known how",
  "age recalled",
  "position",
  "weighing",
  "height measuring",
  "arm measuring",
  "not measured",
  "fault height rounding",
  "fault age heaping",
  "fault duplicate rows",
] as const;
export type Purpose = (typeof purposes)[number];

export type Streams = Readonly<Record<Purpose, RandomStream>>;

/** The seed of one purpose in one survey. */
export function seedOf(survey: number, purpose: Purpose): number {
  return seedFor(survey, `example: ${purpose}`);
}

/** All streams of one survey. */
export function streamsOf(survey: number): Streams {
  const streams = purposes.map((purpose) => [purpose, randomStream(seedOf(survey, purpose))]);
  return Object.fromEntries(streams) as Record<Purpose, RandomStream>;
}
