/** Relative slack: a decimal fraction is held inexactly. */
const slack = 1e-6;

/** One value in a hundred off the grid is a slip; more are a finer grid (own rule, as for the step of a column). */
const mostOff = 0.01;

/**
 * The grid that numbers stand on: the coarsest of 1, 2, 5, 10, 20, 50 ... times `step` that at least 99 in 100 of them are a
 * whole multiple of, and not above `most`. A board read to half a millimetre, written in centimetres with two decimals, has
 * the step 0.01 and the grid 0.05. NaN is passed over; without numbers the grid is the step.
 *
 * @param step the finest digit that is written, in the unit of the numbers
 * @param most the coarsest grid of interest, in the same unit
 */
export function gridOf(numbers: ArrayLike<number>, step: number, most: number): number {
  let grid = step;
  for (let power = 1; power * step <= most * (1 + slack); power *= 10) {
    for (const times of [1, 2, 5]) {
      const candidate = Number((times * power * step).toPrecision(12));
      if (candidate <= most * (1 + slack) && isOn(numbers, candidate)) grid = Math.max(grid, candidate);
    }
  }
  return grid;
}

function isOn(numbers: ArrayLike<number>, grid: number): boolean {
  let n = 0;
  let off = 0;
  for (let i = 0; i < numbers.length; i++) {
    const multiple = (numbers[i] as number) / grid;
    if (Number.isNaN(multiple)) continue;
    n++;
    if (Math.abs(multiple - Math.round(multiple)) > slack * Math.max(1, Math.abs(multiple))) off++;
  }
  return n > 0 && off < mostOff * n;
}
