import { asWritten } from "../columns/set-aside.js";
import type { Survey } from "../columns/survey.js";
import { type Ages, agesOf, daysPerMonth, withinMonths } from "./age.js";
import type { Children, Derived, LeftOut } from "./children.js";
import { stratumWeights } from "./design.js";
import { pickColumns, pickerOf } from "./pick-rows.js";
import { deriveScores, scoreInputOf } from "./scores.js";

interface Kept {
  readonly rows: Uint32Array;
  readonly leftOut: readonly LeftOut[];
}

/** Rows of the survey's age range and of unknown age; a negative age is impossible and left out whatever else is there. */
function keptRows(ages: Ages, survey: Survey): Kept {
  const { from, to } = survey.settings.ageRange;
  const rows = new Uint32Array(survey.rowCount);
  let kept = 0;
  let outside = 0;
  let impossible = 0;
  for (let i = 0; i < survey.rowCount; i++) {
    const days = ages.days[i] as number;
    if (days < 0) impossible += 1;
    else if (Number.isNaN(days) || withinMonths(days, from, to)) rows[kept++] = i;
    else outside += 1;
  }
  const counted: readonly LeftOut[] = [
    { reason: "age-outside", count: outside },
    { reason: "age-impossible", count: impossible },
  ];
  return { rows: rows.slice(0, kept), leftOut: counted.filter(({ count }) => count > 0) };
}

/** What the file would have of the ages that are unknown since they are impossible; null where there are none. */
function impossibleAges(survey: Survey, ages: Ages): Float64Array | null {
  if (survey.ageSetAside == null) return null;
  const written = agesOf(asWritten(survey)).days;
  return written.map((days, row) => (Number.isNaN(ages.days[row]) ? days : Number.NaN));
}

/**
 * From a described survey to its children: exact ages, the survey's age range, positions, converted heights, z-scores
 * on the WHO Child Growth Standards and what each exclusion rule sets aside. Children of unknown age stay (they have a
 * weight-for-height); rows outside the age range are left out and counted.
 */
export function derive(survey: Survey): Derived {
  const ages = agesOf(survey);
  const { rows, leftOut } = keptRows(ages, survey);
  const pick = pickerOf(rows);
  const ageDays = pick.numbers(ages.days);
  const columns = {
    count: rows.length,
    ...pickColumns(survey, pick),
    plan: survey.plan ?? null,
    exclusionRule: survey.settings.exclusions.default,
  };
  const { samplingWeight, stratum, cluster } = columns;
  const { childrenInPopulation } = survey.settings;
  const makesWeights = samplingWeight === null && stratum !== null && childrenInPopulation !== undefined;
  const picked = {
    ...columns,
    samplingWeight: makesWeights ? stratumWeights(cluster, stratum, childrenInPopulation) : samplingWeight,
    ageDays,
    ageMonths: ageDays.map((days) => days / daysPerMonth),
    ageSource: pick.numbers(ages.source),
    ageSetAside: pick.optional(impossibleAges(survey, ages)),
  };
  const scores = deriveScores(scoreInputOf(picked, survey.settings.exclusions.widthAroundMean));
  const children: Children = { ...picked, ...scores };
  return { children, rowsRead: survey.rowCount, leftOut };
}
