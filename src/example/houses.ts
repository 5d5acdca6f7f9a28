import type { RandomStream } from "../stats/random.js";

/** A house of the sample and the ages, in days, of its children under five. */
export interface House {
  readonly number: number;
  readonly ages: readonly number[];
}

/** Brothers and sisters are at least ten months apart. */
const siblingGapDays = 300;
/** Share of children who live with a brother or sister under five, where the ages allow it. */
const siblingShare = 0.3;

/**
 * Puts a cluster's children into houses. Ages are drawn before, one by one, and never chosen here, so that the age
 * distribution stays as it was drawn.
 */
export function housesOf(ages: readonly number[], random: RandomStream): readonly House[] {
  const houses: { readonly number: number; readonly ages: number[] }[] = [];
  let number = 1 + random.below(5);
  for (const age of ages) {
    const hasSibling = random.uniform() < siblingShare;
    const step = 2 + random.below(8);
    const fits = (house: House): boolean =>
      house.ages.length < 3 && house.ages.every((other) => Math.abs(other - age) >= siblingGapDays);
    const fitting = hasSibling ? houses.filter(fits) : [];
    const home = fitting[random.below(fitting.length)];
    if (home !== undefined) {
      home.ages.push(age);
      continue;
    }
    houses.push({ number, ages: [age] });
    number += step;
  }
  return houses;
}
