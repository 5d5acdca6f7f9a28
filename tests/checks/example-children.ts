import type { Children } from "../../src/derive/children.js";
import { deriveScores } from "../../src/derive/scores.js";
import type { ExampleFaults } from "../../src/example/options.js";
import { generateSurvey } from "../../src/example/survey.js";
import { makeChildren } from "./make-children.js";

const daysPerMonth = 30.4375;
/** Monday 7 October 2024, in days since 1970-01-01: the first day of the invented survey. */
const firstDay = Date.UTC(2024, 9, 7) / 86_400_000;

/** The children of an invented survey with the faults asked for, with z-scores derived from the growth standards. */
export function exampleChildren(seed: number, faults: ExampleFaults = {}): Children {
  const records = generateSurvey({ seed, faults }).records.filter((record) => record.outcome === "measured");
  const count = records.length;
  const of = <T>(value: (record: (typeof records)[number]) => T) => records.map(value);
  const interviewDay = of(({ day }) => firstDay + day + Math.floor(day / 6));
  const ageDays = of(({ birthDay, ageMonths }) =>
    Number.isNaN(birthDay) ? (ageMonths + 0.5) * daysPerMonth : birthDay,
  );
  const days = ageDays.map((value, i) =>
    Number.isNaN(records[i]?.birthDay) ? value : (interviewDay[i] as number) - value,
  );
  const base = makeChildren({
    count,
    sex: of(({ sex }) => sex),
    ageDays: days,
    ageMonths: days.map((value) => value / daysPerMonth),
    interviewDay,
    birthDay: of(({ birthDay }) => birthDay),
    weight: of(({ weight }) => weight),
    height: of(({ height }) => height),
    arm: of(({ arm }) => arm),
    position: of(({ position }) => position),
    oedema: of(({ oedema }) => oedema),
    cluster: of(({ cluster }) => String(cluster)),
    stratum: of(({ district }) => district),
    area: of(({ district }) => district),
    team: of(({ team }) => team),
    samplingWeight: of(({ samplingWeight }) => samplingWeight),
  });
  const scores = deriveScores({
    sex: base.sex,
    ageDays: base.ageDays,
    weight: base.weight?.values ?? null,
    height: base.height?.values ?? null,
    arm: base.arm?.values ?? null,
    head: null,
    position: base.position,
    oedema: base.oedema,
    widthAroundMean: 3,
  });
  return { ...base, ...scores };
}
