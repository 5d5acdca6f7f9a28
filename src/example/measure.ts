import { daysPerMonth } from "../derive/age.js";
import { lengthMinusHeight } from "../derive/position.js";
import { isLengthAge } from "./growth.js";
import type { Fieldwork } from "./place.js";
import type { AgeKnownBy, FieldRecord, Outcome } from "./record.js";
import type { Streams } from "./streams.js";
import type { TrueChild } from "./truth.js";

/**
 * What honest, careful teams write down. Every number here is invented: small errors of measurement without any bias,
 * a few things left out, a few children in the other position.
 */
const errors = { heightCentimetres: 0.3, weightKilograms: 0.05, armMillimetres: 2 } as const;
const shares = { refused: 0.006, away: 0.004, itemMissing: 0.006, sexMissing: 0.002, ageMissing: 0.003 } as const;
/** Share in the other position: near the second birthday, and elsewhere; none before a child can stand. */
const otherPosition = { nearTwoYears: 0.1, elsewhere: 0.008, standsFromDays: 274, nearDays: 61 } as const;
/** An age recalled with a calendar of events is off by this share of the age (one standard deviation). */
const recallError = 0.04;
/** Arm circumference is taken from six completed months. */
const armFromDays = 6 * daysPerMonth;

/** A number as an instrument with this many steps a unit shows it. */
export function shown(value: number, stepsPerUnit: number): number {
  return Math.round(value * stepsPerUnit) / stepsPerUnit;
}

interface FieldAge {
  readonly ageKnownBy: AgeKnownBy;
  readonly birthDay: number;
  readonly ageMonths: number;
  /** The age the team went by, in days. */
  readonly days: number;
}

function datedShare(ageDays: number): number {
  if (ageDays < 12 * daysPerMonth) return 0.97;
  return ageDays < 36 * daysPerMonth ? 0.9 : 0.84;
}

function fieldAgeOf(child: TrueChild, visitDay: number, streams: Streams): FieldAge {
  const how = streams["age known how"];
  const dated = how.uniform() < datedShare(child.ageDays);
  const onCard = how.uniform() < 0.8;
  const missing = how.uniform() < shares.ageMissing;
  const recalled = (child.ageDays / daysPerMonth) * (1 + recallError * streams["age recalled"].normal());
  const unknown = { birthDay: Number.NaN, ageMonths: Number.NaN, days: child.ageDays };
  if (missing) return { ...unknown, ageKnownBy: "not known" };
  if (dated) {
    const ageKnownBy = onCard ? "health card" : "birth certificate";
    return { ...unknown, ageKnownBy, birthDay: visitDay - child.ageDays };
  }
  const inRange = recalled >= 0 && recalled < 60 ? recalled : child.ageDays / daysPerMonth;
  const ageMonths = Math.floor(inRange);
  return { ...unknown, ageKnownBy: "calendar of events", ageMonths, days: (ageMonths + 0.5) * daysPerMonth };
}

function positionOf(child: TrueChild, fieldDays: number, streams: Streams): 1 | 2 {
  const asked = isLengthAge(fieldDays) ? 1 : 2;
  const near = Math.abs(fieldDays - 24 * daysPerMonth) < otherPosition.nearDays;
  const share = near ? otherPosition.nearTwoYears : otherPosition.elsewhere;
  const other = streams.position.uniform() < share && child.ageDays >= otherPosition.standsFromDays;
  return other ? (asked === 1 ? 2 : 1) : asked;
}

/** The child's length or height in the position it was really measured in. */
function sizeIn(position: 1 | 2, child: TrueChild): number {
  const standard = isLengthAge(child.ageDays) ? 1 : 2;
  if (position === standard) return child.standardHeight;
  return child.standardHeight + (position === 1 ? lengthMinusHeight : -lengthMinusHeight);
}

function outcomeOf(draw: number): Outcome {
  if (draw < shares.refused) return "refused";
  return draw < shares.refused + shares.away ? "away" : "measured";
}

/** Measures of one child. Each stream gives the same number of draws for every child, whatever becomes of them. */
function measuresOf(child: TrueChild, age: FieldAge, streams: Streams) {
  const left = streams["not measured"];
  const outcome = outcomeOf(left.uniform());
  const isMissing = (): boolean => left.uniform() < shares.itemMissing || outcome !== "measured";
  const position = positionOf(child, age.days, streams);
  const weight = shown(child.weight + errors.weightKilograms * streams.weighing.normal(), 10);
  const height = shown(sizeIn(position, child) + errors.heightCentimetres * streams["height measuring"].normal(), 10);
  const arm = shown(child.arm + errors.armMillimetres * streams["arm measuring"].normal(), 1);
  const missing = { weight: isMissing(), height: isMissing(), arm: isMissing(), oedema: isMissing() };
  const positionMissing = isMissing();
  return {
    outcome,
    sex: left.uniform() < shares.sexMissing ? (0 as const) : child.sex,
    weight: missing.weight ? Number.NaN : weight,
    height: missing.height ? Number.NaN : height,
    position: missing.height || positionMissing ? (0 as const) : position,
    arm: missing.arm || age.days < armFromDays ? Number.NaN : arm,
    oedema: missing.oedema ? (2 as const) : child.oedema ? (1 as const) : (0 as const),
  };
}

/** Survey day of each child: a cluster's houses are visited in order, spread evenly over its days. */
function dayOf(child: TrueChild, rank: number, count: number): number {
  const days = child.cluster.lastDay - child.cluster.firstDay + 1;
  return child.cluster.firstDay + Math.floor((rank * days) / count);
}

/** Children a cluster of each district stands for, as weights around 1. */
function samplingWeights(children: readonly TrueChild[], districts: Fieldwork["districts"]): readonly number[] {
  const clusters = districts.map(
    (_, district) => new Set(children.filter((c) => c.cluster.district === district).map((c) => c.cluster.number)).size,
  );
  const total = districts.reduce((sum, district) => sum + district.children, 0);
  const used = clusters.reduce((sum, count) => sum + count, 0);
  return districts.map((district, i) => shown((district.children / total) * (used / (clusters[i] ?? 1)), 10_000));
}

/** Measures every child, and puts the records in the order in which they were made. */
export function measure(
  children: readonly TrueChild[],
  fieldwork: Fieldwork,
  streams: Streams,
): readonly FieldRecord[] {
  const { districts, teams, days } = fieldwork;
  const weights = samplingWeights(children, districts);
  const sizes = new Map<number, number>();
  for (const child of children) sizes.set(child.cluster.number, (sizes.get(child.cluster.number) ?? 0) + 1);
  const ranks = new Map<number, number>();
  const records = children.map((child, index): FieldRecord => {
    const rank = ranks.get(child.cluster.number) ?? 0;
    ranks.set(child.cluster.number, rank + 1);
    const day = dayOf(child, rank, sizes.get(child.cluster.number) ?? 1);
    const age = fieldAgeOf(child, days[day] ?? Number.NaN, streams);
    return {
      child: index,
      day,
      team: teams[child.cluster.team] ?? "",
      district: districts[child.cluster.district]?.name ?? "",
      cluster: child.cluster.number,
      clusterKind: child.cluster.kind,
      house: child.house,
      line: child.line,
      ageKnownBy: age.ageKnownBy,
      birthDay: age.birthDay,
      ageMonths: age.ageMonths,
      ...measuresOf(child, age, streams),
      samplingWeight: weights[child.cluster.district] ?? Number.NaN,
    };
  });
  return records.sort((a, b) => a.day - b.day || (a.team < b.team ? -1 : a.team > b.team ? 1 : a.child - b.child));
}
