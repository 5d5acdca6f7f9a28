import { message } from "../../results/message.js";
import { randomStream } from "../../stats/random.js";
import { heapedAgeDraw, withinMonthDraw } from "../ages.js";
import { changedRows, columnBefore, marksOf } from "../changed.js";
import { digitDraw, roundedMeasures } from "../digits.js";
import type { Draw } from "../imputation.js";
import type { World } from "../scenario.js";
import { columnIn, type Repair, type RepairedColumn, type RepairFile } from "./repair.js";

/** Rows that a draw may change: those that some of a few draws do. */
function touchedBy(world: World, draw: Draw): Uint8Array {
  const touched = new Uint8Array(world.children.count);
  const random = randomStream(1);
  for (let k = 0; k < 4; k++) {
    const marks = marksOf(changedRows(world.children, draw(random)), touched.length);
    for (let i = 0; i < touched.length; i++) touched[i] = (touched[i] as number) | (marks[i] as number);
  }
  return touched;
}

/** What the draw changes is added to what the column holds already: other repairs may have changed it before. */
function applied(world: World, name: RepairedColumn, draw: Draw): Repair["apply"] {
  const before = columnBefore(world.children, name);
  return (drawn, _, random) => {
    const changed = draw(random)[name];
    const column = columnIn(world, drawn, name);
    if (changed === undefined || column === null || before === null) return;
    const values = column.map((value, i) => value + ((changed[i] as number) - (before[i] as number) || 0));
    drawn.columns = { ...drawn.columns, [name]: values };
  };
}

/** Measures that were rounded, and ages, put back into the interval they were rounded from. */
export const rounding: RepairFile = (world) => {
  const measures = roundedMeasures.flatMap((rounded): Repair[] => {
    const draw = digitDraw(world, rounded);
    if (draw === null) return [];
    return [
      {
        id: `digits/${rounded.measure}`,
        label: message(`scenario.digits.${rounded.measure}`),
        checks: [rounded.check],
        team: null,
        touched: touchedBy(world, draw),
        apply: applied(world, rounded.measure, draw),
      },
    ];
  });
  const ages = [["heaped", heapedAgeDraw(world)] as const, ["within-month", withinMonthDraw(world)] as const].flatMap(
    ([name, draw]): Repair[] =>
      draw === null
        ? []
        : [
            {
              id: `ages/${name}`,
              label: message(`scenario.ages.${name}`),
              checks: ["age-heaping"],
              team: null,
              touched: touchedBy(world, draw),
              apply: applied(world, "ageDays", draw),
            },
          ],
  );
  return [...measures, ...ages];
};
