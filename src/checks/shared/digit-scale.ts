/** Relative slack when steps are compared: steps are decimal fractions that a computer holds inexactly. */
export const tolerance = 1e-6;

/** Digits a column written in `step` can show: their place, how many, and their labels. */
export interface DigitScale {
  readonly place: number;
  readonly count: number;
  readonly labels: readonly string[];
}

/**
 * The digit that is looked at. A column written to the resolution or finer: the digit at the resolution (tenths, or
 * whole millimetres), ten of them. A coarser column: only the digits its step can show (0.2 gives 0 2 4 6 8, 0.5 gives
 * 0 5), and from whole tens of the resolution on, the next place.
 */
export function digitScale(step: number, resolution: number): DigitScale | null {
  let place = resolution;
  while (step > 10 * place * (1 - tolerance)) place *= 10;
  const unit = Math.max(step, place);
  const exact = (10 * place) / unit;
  const count = Math.round(exact);
  if (Math.abs(exact - count) > tolerance * 100 || count < 2) return null;
  const size = 10 / count;
  const decimals = Number.isInteger(size) ? 0 : 1;
  return { place, count, labels: Array.from({ length: count }, (_, digit) => (digit * size).toFixed(decimals)) };
}

/** Index of the digit of one reading on a scale. */
export function digitOf(value: number, scale: DigitScale): number {
  const unit = (10 * scale.place) / scale.count;
  return Math.floor(value / unit + 1e-4) % scale.count;
}

/** Counts of the digits over some children; missing readings are left out. */
export function countDigits(values: Float64Array, members: ArrayLike<number>, scale: DigitScale): Float64Array {
  const counts = new Float64Array(scale.count);
  for (let i = 0; i < members.length; i++) {
    const value = values[members[i] ?? 0] ?? Number.NaN;
    if (value >= 0) {
      const digit = digitOf(value, scale);
      counts[digit] = (counts[digit] ?? 0) + 1;
    }
  }
  return counts;
}

/**
 * Whether a smooth distribution of this spread gives every digit the same share: the first harmonic of a normal
 * distribution wrapped on the digits' period is 2 exp(-2 pi^2 (sd / period)^2); below 0.01 the digits are even for
 * every practical purpose. A standard result of directional statistics (wrapped normal distribution).
 */
export function digitsAreEven(standardDeviation: number, period: number): boolean {
  return 2 * Math.exp(-2 * Math.PI ** 2 * (standardDeviation / period) ** 2) < 0.01;
}
