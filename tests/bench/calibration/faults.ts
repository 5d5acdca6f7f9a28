import { lengthMinusHeight } from "../../../src/derive/position.js";
import { shown } from "../../../src/example/measure.js";
import type { FieldRecord } from "../../../src/example/record.js";
import type { TrueChild } from "../../../src/example/truth.js";
import type { RandomStream } from "../../../src/stats/random.js";

type Records = readonly FieldRecord[];
type Truth = readonly TrueChild[];

/** A fault of fieldwork planted in what careful teams wrote down; its size is drawn. */
export interface Fault {
  readonly name: string;
  /** Whether anything in the data could put it right: the program does not know. */
  readonly seen: boolean;
  plant(records: Records, truth: Truth, random: RandomStream): Records;
}

const teams = ["T1", "T2", "T3", "T4", "T5", "T6"];
const between = (random: RandomStream, low: number, high: number): number => low + random.uniform() * (high - low);
const sign = (random: RandomStream): number => (random.uniform() < 0.5 ? -1 : 1);
const teamOf = (random: RandomStream): string => teams[random.below(teams.length)] as string;
const each =
  (change: (record: FieldRecord, truth: TrueChild | undefined) => FieldRecord) =>
  (records: Records, truth: Truth): Records =>
    records.map((record) => change(record, truth[record.child]));

const toFirstOfYear = (day: number): number => {
  const year = new Date(day * 86_400_000).getUTCFullYear();
  return Date.UTC(year, 0, 1) / 86_400_000;
};
const toFirstOfMonth = (day: number): number => {
  const date = new Date(day * 86_400_000);
  return Date.UTC(date.getUTCFullYear(), date.getUTCMonth(), 1) / 86_400_000;
};
const isThin = (truth: TrueChild | undefined): boolean => (truth?.weightForHeight ?? 0) < -2;

/** Every kind of fault of the bench. None of them was chosen by whoever wrote the repairs to be easy for these. */
export const faults: readonly Fault[] = [
  {
    name: "one scale off",
    seen: true,
    plant: (records, truth, random) => {
      const team = teamOf(random);
      const by = sign(random) * between(random, 0.1, 0.6);
      return each((r) => (r.team === team ? { ...r, weight: shown(r.weight + by, 10) } : r))(records, truth);
    },
  },
  {
    name: "one scale drifts",
    seen: true,
    plant: (records, truth, random) => {
      const team = teamOf(random);
      const by = sign(random) * between(random, 0.02, 0.07);
      return each((r) => (r.team === team ? { ...r, weight: shown(r.weight + by * r.day, 10) } : r))(records, truth);
    },
  },
  {
    name: "one board off",
    seen: true,
    plant: (records, truth, random) => {
      const team = teamOf(random);
      const by = sign(random) * between(random, 0.5, 2.5);
      return each((r) => (r.team === team ? { ...r, height: shown(r.height + by, 10) } : r))(records, truth);
    },
  },
  {
    name: "one tape off",
    seen: true,
    plant: (records, truth, random) => {
      const team = teamOf(random);
      const by = sign(random) * between(random, 3, 10);
      return each((r) => (r.team === team ? { ...r, arm: shown(r.arm + by, 1) } : r))(records, truth);
    },
  },
  {
    name: "heights rounded",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.3, 0.9);
      const own = new Set([teamOf(random), teamOf(random), teamOf(random)]);
      return each((r) => (own.has(r.team) && random.uniform() < share ? { ...r, height: shown(r.height, 1) } : r))(
        records,
        truth,
      );
    },
  },
  {
    name: "weights rounded to half kilos",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.3, 0.9);
      const own = new Set([teamOf(random), teamOf(random), teamOf(random)]);
      return each((r) => (own.has(r.team) && random.uniform() < share ? { ...r, weight: shown(r.weight, 2) } : r))(
        records,
        truth,
      );
    },
  },
  {
    name: "ages pulled to whole and half years",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.2, 0.7);
      return each((r, child) => {
        const months = (child?.ageDays ?? Number.NaN) / 30.4375;
        const step = random.uniform() < 0.6 ? 12 : 6;
        const to = Math.round(months / step) * step;
        if (random.uniform() >= share || !(to >= 6 && to < 60) || Math.abs(to - months) > 6) return r;
        return { ...r, birthDay: Number.NaN, ageKnownBy: "calendar of events" as const, ageMonths: to };
      })(records, truth);
    },
  },
  {
    name: "births put to 1 January",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.05, 0.3);
      return each((r) =>
        !Number.isNaN(r.birthDay) && random.uniform() < share ? { ...r, birthDay: toFirstOfYear(r.birthDay) } : r,
      )(records, truth);
    },
  },
  {
    name: "births put to the first of the month",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.1, 0.6);
      return each((r) =>
        !Number.isNaN(r.birthDay) && random.uniform() < share ? { ...r, birthDay: toFirstOfMonth(r.birthDay) } : r,
      )(records, truth);
    },
  },
  {
    name: "thin children not weighed",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.1, 0.4);
      return each((r, child) => (isThin(child) && random.uniform() < share ? { ...r, weight: Number.NaN } : r))(
        records,
        truth,
      );
    },
  },
  {
    name: "weights missing by chance",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.03, 0.12);
      return each((r) => (random.uniform() < share ? { ...r, weight: Number.NaN } : r))(records, truth);
    },
  },
  {
    name: "records entered twice",
    seen: true,
    plant: (records, _, random) => {
      const share = between(random, 0.01, 0.05);
      return records.flatMap((r) => (random.uniform() < share ? [r, r] : [r]));
    },
  },
  {
    name: "position recorded wrong",
    seen: true,
    plant: (records, truth, random) => {
      const share = between(random, 0.05, 0.3);
      return each((r) =>
        r.position !== 0 && random.uniform() < share ? { ...r, position: r.position === 1 ? 2 : 1 } : r,
      )(records, truth);
    },
  },
  {
    name: "measured in the other position and not recorded",
    seen: false,
    plant: (records, truth, random) => {
      const share = between(random, 0.05, 0.3);
      return each((r) => {
        if (r.position === 0 || random.uniform() >= share) return r;
        return { ...r, height: shown(r.height + (r.position === 1 ? -lengthMinusHeight : lengthMinusHeight), 10) };
      })(records, truth);
    },
  },
  {
    name: "heights careless",
    seen: false,
    plant: (records, truth, random) => {
      const sd = between(random, 0.4, 1.8);
      const own = random.uniform() < 0.4 ? null : teamOf(random);
      return each((r) =>
        own === null || r.team === own ? { ...r, height: shown(r.height + sd * random.normal(), 10) } : r,
      )(records, truth);
    },
  },
  {
    name: "children invented, healthier",
    seen: false,
    plant: (records, truth, random) => {
      const share = between(random, 0.2, 0.8);
      const team = teamOf(random);
      return each((r, child) => {
        if (r.team !== team || random.uniform() >= share || child === undefined) return r;
        const lift = Math.max(0, -1 - child.weightForHeight);
        return { ...r, weight: shown(r.weight * (1 + 0.08 * lift), 10), arm: shown(r.arm + 5 * lift, 1) };
      })(records, truth);
    },
  },
  {
    name: "earlier children copied with changes",
    seen: false,
    plant: (records, _, random) => {
      const share = between(random, 0.05, 0.4);
      const team = teamOf(random);
      const earlier: FieldRecord[] = [];
      return records.map((r) => {
        if (r.team !== team) return r;
        const source = earlier[random.below(Math.max(1, earlier.length))];
        earlier.push(r);
        if (source === undefined || random.uniform() >= share) return r;
        const { sex, ageKnownBy, birthDay, ageMonths, weight, height, arm, position } = source;
        return {
          ...r,
          ...{ sex, ageKnownBy, birthDay, ageMonths, position },
          weight: shown(weight + (random.below(3) - 1) * 0.1, 10),
          height: shown(height + (random.below(3) - 1) * 0.1, 10),
          arm: arm + random.below(3) - 1,
        };
      });
    },
  },
  {
    name: "sex codes swapped",
    seen: false,
    plant: (records, truth, random) => {
      const share = between(random, 0.02, 0.1);
      return each((r) => (r.sex !== 0 && random.uniform() < share ? { ...r, sex: r.sex === 1 ? 2 : 1 } : r))(
        records,
        truth,
      );
    },
  },
  {
    name: "digits transposed",
    seen: false,
    plant: (records, truth, random) => {
      const share = between(random, 0.01, 0.03);
      const turned = (value: number): number => {
        const whole = Math.floor(value);
        const [tens, ones] = [Math.floor(whole / 10), whole % 10];
        return ones * 10 + tens + (value - whole);
      };
      return each((r) => {
        if (random.uniform() >= share) return r;
        if (random.uniform() < 0.5 && r.weight >= 10) return { ...r, weight: shown(turned(r.weight), 10) };
        return r.height >= 45 && r.height < 100 ? { ...r, height: shown(turned(r.height), 10) } : r;
      })(records, truth);
    },
  },
  {
    name: "all scales off",
    seen: false,
    plant: (records, truth, random) => {
      const by = sign(random) * between(random, 0.03, 0.15);
      return each((r) => ({ ...r, weight: shown(r.weight + by, 10) }))(records, truth);
    },
  },
  {
    name: "thin children not reached",
    seen: false,
    plant: (records, truth, random) => {
      const share = between(random, 0.05, 0.25);
      return records.filter((r) => !(isThin(truth[r.child]) && random.uniform() < share));
    },
  },
];
