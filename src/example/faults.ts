import { daysPerMonth } from "../derive/age.js";
import { lengthMinusHeight } from "../derive/position.js";
import type { RandomStream } from "../stats/random.js";
import { isLengthAge } from "./growth.js";
import { shown } from "./measure.js";
import type { AgeHeaping, ExampleFaults, HeightRounding, ScaleDrift } from "./options.js";
import type { FieldRecord } from "./record.js";
import type { Streams } from "./streams.js";
import type { TrueChild } from "./truth.js";

type Records = readonly FieldRecord[];

/** Three in five of the rounded heights become whole centimetres, the rest whole or half ones. */
function roundHeights(records: Records, fault: HeightRounding, random: RandomStream): Records {
  return records.map((record) => {
    const rounded = random.uniform() < fault.share;
    const toWhole = random.uniform() < 0.6;
    if (record.team !== fault.team || !rounded) return record;
    return { ...record, height: shown(record.height, toWhole ? 1 : 2) };
  });
}

/** The whole year where it is within three and a half months, else the nearest half year. */
function pulledMonths(months: number): number {
  const year = Math.round(months / 12) * 12;
  return Math.abs(months - year) <= 3.5 ? year : Math.round(months / 6) * 6;
}

/** The team goes by the age it was told: where that crosses two years, the child is measured in the other position. */
function placedByAge(record: FieldRecord, trueDays: number, months: number): Pick<FieldRecord, "position" | "height"> {
  const asked = isLengthAge(trueDays) ? 1 : 2;
  const askedNow = isLengthAge((months + 0.5) * daysPerMonth) ? 1 : 2;
  const { position, height } = record;
  if (position !== asked || asked === askedNow) return { position, height };
  return { position: askedNow, height: shown(height + (askedNow === 1 ? lengthMinusHeight : -lengthMinusHeight), 10) };
}

function heapAges(records: Records, children: readonly TrueChild[], fault: AgeHeaping, random: RandomStream): Records {
  return records.map((record) => {
    const heaped = random.uniform() < fault.share;
    const trueDays = children[record.child]?.ageDays ?? Number.NaN;
    const months = trueDays / daysPerMonth;
    const pulled = pulledMonths(months);
    const possible = months >= 6 && pulled >= 6 && pulled < 60 && record.ageKnownBy !== "not known";
    if (record.district !== fault.district || !heaped || !possible) return record;
    return {
      ...record,
      ...placedByAge(record, trueDays, pulled),
      ageKnownBy: "calendar of events",
      birthDay: Number.NaN,
      ageMonths: pulled,
    };
  });
}

function driftScale(records: Records, fault: ScaleDrift): Records {
  return records.map((record) =>
    record.team === fault.team
      ? { ...record, weight: shown(record.weight + fault.kilogramsPerDay * record.day, 10) }
      : record,
  );
}

/** Copies of completely measured children, one to five rows after the first entry. */
function enterTwice(records: Records, count: number, random: RandomStream): Records {
  const complete = records.filter((r) => !Number.isNaN(r.weight + r.height + r.arm) && r.sex !== 0);
  const chosen = new Set<FieldRecord>();
  while (chosen.size < Math.min(count, complete.length)) {
    const record = complete[random.below(complete.length)];
    if (record !== undefined) chosen.add(record);
  }
  const result = [...records];
  for (const record of chosen) result.splice(result.indexOf(record) + 1 + random.below(5), 0, record);
  return result;
}

/** Plants the faults asked for. Each draws from its own stream and leaves everything else as it was. */
export function plantFaults(
  records: Records,
  children: readonly TrueChild[],
  faults: ExampleFaults,
  streams: Streams,
): Records {
  let planted = records;
  if (faults.ageHeaping) planted = heapAges(planted, children, faults.ageHeaping, streams["fault age heaping"]);
  if (faults.scaleDrift) planted = driftScale(planted, faults.scaleDrift);
  if (faults.heightRounding) planted = roundHeights(planted, faults.heightRounding, streams["fault height rounding"]);
  if (faults.duplicateRows) {
    planted = enterTwice(planted, faults.duplicateRows.count, streams["fault duplicate rows"]);
  }
  return planted;
}
