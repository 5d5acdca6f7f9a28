import type { ChangedColumns } from "../derive/rescore.js";
import type { RandomStream } from "../stats/random.js";
import { changedChildren, changedRows, marksOf, restsOn } from "./changed.js";
import { poolAll } from "./pooling.js";
import { reestimate, withChanged } from "./reestimate.js";
import type { Reestimate, World } from "./scenario.js";

/** Completed data sets a scenario draws. 20 keep the simulation's own error of an interval's end small (Rubin's rules, from memory). */
export const completedSets = 20;

/** One completed data set: the columns to replace, drawn at random. */
export type Draw = (random: RandomStream) => ChangedColumns;

/** What is costly to prepare and asked for by several scenarios, made once for each world. */
export function onceForEachWorld<Made>(make: (world: World) => Made): (world: World) => Made {
  const known = new WeakMap<World, { readonly made: Made }>();
  return (world) => {
    const entry = known.get(world) ?? { made: make(world) };
    known.set(world, entry);
    return entry.made;
  };
}

/** Merges several draws into one set of columns; a later draw sees nothing of an earlier one, so they must change different columns. */
export function drawTogether(draws: readonly Draw[], random: RandomStream): ChangedColumns {
  return Object.assign({}, ...draws.map((draw) => draw(random)));
}

/** Marks an estimate that rests on random draws. */
export const drawnAtRandom = (found: Reestimate): Reestimate => ({
  ...found,
  speaks: { ...found.speaks, atRandom: true },
});

/** Every headline re-estimated on each completed data set with the full design, pooled by Rubin's rules. */
export function imputed(world: World, draws: readonly Draw[], random: RandomStream): readonly Reestimate[] {
  const runs = Array.from({ length: completedSets }, () => {
    const columns = drawTogether(draws, random);
    const children = changedChildren(world, columns);
    const isChanged = marksOf(changedRows(world.children, columns), children.count);
    return world.headlines.map(({ estimate, published }) =>
      restsOn(estimate, columns)
        ? drawnAtRandom(withChanged(reestimate(children, world.design, estimate, world.rule), isChanged))
        : published,
    );
  });
  return poolAll(runs);
}
