import { Bench } from "tinybench";
import { indexIds } from "../../src/derive/children.js";
import { growthTable } from "../../src/derive/growth-standards/growth-table.js";
import { lookUp } from "../../src/derive/growth-standards/look-up.js";
import { placeHeights } from "../../src/derive/position.js";
import { deriveScores, type ScoreInput, scoreIndex } from "../../src/derive/scores.js";
import { valueAtZ } from "../../src/derive/z-score.js";
import { randomStream } from "../../src/stats/random.js";

/** Invented children: ages flat over 0 to 59 months, z-scores normal with a standard deviation of 1.2. */
function invented(count: number): ScoreInput {
  const random = randomStream(7);
  const column = () => new Float64Array(count);
  const [ageDays, weight, height, arm, head] = [column(), column(), column(), column(), column()];
  const sex = Uint8Array.from({ length: count }, () => 1 + random.below(2));
  for (let i = 0; i < count; i++) {
    const days = random.below(1826);
    const draw = (id: Parameters<typeof growthTable>[0]): number => {
      const table = growthTable(id);
      const lms = lookUp(table, sex[i] as 1 | 2, days);
      return lms === null ? Number.NaN : valueAtZ(-0.8 + 1.2 * random.normal(), lms.l, lms.m, lms.s, table.restricted);
    };
    ageDays[i] = days;
    weight[i] = draw("weight-for-age");
    height[i] = Math.round(draw("length-height-for-age") * 10) / 10;
    arm[i] = Math.round(draw("arm-circumference-for-age") * 10);
    head[i] = draw("head-circumference-for-age");
  }
  const position = Uint8Array.from(ageDays, (days) => (days < 731 ? 1 : 2));
  return { sex, ageDays, weight, height, arm, head, position, oedema: new Uint8Array(count), widthAroundMean: 3 };
}

const million = invented(1_000_000);
const thousand = invented(1_000);

/** z-scores from typed columns: tinybench suite for `npm run bench`. */
export const scoresBench = new Bench({ name: "z-scores", time: 1000, iterations: 5, warmupIterations: 1 })
  .add("1,000,000 children, weight-for-height, height-for-age, weight-for-age", () => {
    const placed = placeHeights(million.ageDays, million.height, million.position);
    for (const index of indexIds.slice(0, 3)) scoreIndex(index, million, placed);
  })
  .add("1,000,000 children, all six indices and exclusions", () => {
    deriveScores(million);
  })
  .add("1,000 children, all six indices and exclusions", () => {
    deriveScores(thousand);
  });
