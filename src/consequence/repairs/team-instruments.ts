import { bookOf } from "../../disclosure/book.js";
import { keyOf } from "../../disclosure/splits.js";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import { drawOffsetsOfGroups, type OffsetDraw } from "../../stats/group-offsets.js";
import { randomStream, seedFor } from "../../stats/random.js";
import type { World } from "../scenario.js";
import { type Instrument, type InstrumentModel, instrumentModel, measures } from "./instruments.js";
import { columnIn, type Repair, type RepairFile } from "./repair.js";

/** In how an instrument is checked: grams, millimetres. */
const small: Readonly<Record<Instrument, number>> = { scale: 1000, board: 10, tape: 1 };

/**
 * To what an instrument is read against a known weight, rod or cylinder: its reading step (100 g, 1 mm, 1 mm) as a uniform
 * distribution. How far two careful measurements of a child differ: 0.1 kg, 0.6 cm, 3 mm. Common practice, no source.
 */
const errors: Readonly<Record<Instrument, { readonly readingError: number; readonly remeasureError: number }>> = {
  scale: { readingError: 0.1 / Math.sqrt(12), remeasureError: 0.1 },
  board: { readingError: 0.1 / Math.sqrt(12), remeasureError: 0.6 },
  tape: { readingError: 1 / Math.sqrt(12), remeasureError: 3 },
};

/** A team's instrument is put right only where it is this likely that something is wrong with it: below, it is left alone. */
const leastChance = 0.1;

/** Of the draws of one team, those in which its likeliest kind of fault holds. */
interface Summary {
  readonly kind: number;
  readonly chance: number;
  readonly mean: number;
  readonly standardError: number;
}

function summaryOf(draws: readonly OffsetDraw[], team: number, kinds: number): Summary {
  const amounts = Array.from({ length: kinds }, (): number[] => []);
  for (const { kind, amount } of draws) {
    const own = kind[team] as number;
    if (own >= 0) amounts[own]?.push(amount[team] as number);
  }
  const any = amounts.reduce((sum, own) => sum + own.length, 0);
  const kind = amounts.reduce((best, own, k) => (own.length > (amounts[best]?.length ?? 0) ? k : best), 0);
  const own = amounts[kind] ?? [];
  const mean = own.reduce((sum, value) => sum + value, 0) / own.length;
  const variance = own.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, own.length - 1);
  return { kind, chance: any / draws.length, mean, standardError: Math.sqrt(variance) };
}

function words(found: InstrumentModel, { kind, chance, mean, standardError }: Summary, team: string): Message {
  const suspicion = found.suspicions[kind];
  const { instrument, course } = suspicion ?? { instrument: "scale", course: "offset" };
  const factor = small[instrument];
  return message(`repair.instrument.found.${course}`, {
    team,
    instrument: message(`consequence.instrument.${instrument}`),
    amount: Math.abs(mean) * factor,
    error: standardError * factor,
    unit: instrument === "scale" ? "gram" : "millimetre",
    direction: mean >= 0 ? "up" : "down",
    chance,
  });
}

/** What the likeliest instrument is off by in every draw, a drift on the team's mean day. */
function amountsOf(world: World, found: InstrumentModel, draws: readonly OffsetDraw[], team: number, name: Instrument) {
  const { codes } = world.children.team ?? { codes: new Int32Array(0) };
  const days = [...found.daysOn].filter((day, i) => codes[i] === team && !Number.isNaN(day));
  const meanDay = days.length === 0 ? 0 : days.reduce((sum, day) => sum + day, 0) / days.length;
  return draws.map(({ kind, amount }) => {
    const wrong = found.suspicions[kind[team] as number];
    if (wrong?.instrument !== name) return 0;
    return (amount[team] as number) * (wrong.course === "drift" ? meanDay : 1);
  });
}

function repairOf(world: World, found: InstrumentModel, draws: readonly OffsetDraw[], team: number): Repair | null {
  const { children } = world;
  const summary = summaryOf(draws, team, found.suspicions.length);
  if (children.team === null || summary.chance < leastChance) return null;
  const label = children.team.publicLabels[team] ?? "";
  const codes = children.team.codes;
  const everybody = bookOf(children).subject("repair/team", new Uint8Array(children.count).fill(1));
  if (everybody.part(keyOf(children.team), team, { by: "team", label }) === null) return null;
  const instrument = found.suspicions[summary.kind]?.instrument ?? "scale";
  return {
    id: `instrument/${label}`,
    label: message("repair.instrument", {
      team: label,
      instrument: message(`consequence.instrument.${instrument}`),
    }),
    checks: ["teams-differ"],
    team: label,
    touched: Uint8Array.from(codes, (code) => (code === team ? 1 : 0)),
    found: words(found, summary, label),
    chance: summary.chance,
    instrument: { name: instrument, amounts: amountsOf(world, found, draws, team, instrument), ...errors[instrument] },
    apply: (drawn, draw) => {
      const own = draws[draw];
      const kind = own?.kind[team] ?? -1;
      const wrong = found.suspicions[kind];
      if (own === undefined || wrong === undefined) return;
      const name = measures[wrong.instrument];
      const column = columnIn(world, drawn, name);
      if (column === null) return;
      const amount = own.amount[team] as number;
      const values = column.map((value, i) => {
        if (codes[i] !== team) return value;
        const days = found.daysOn[i] ?? Number.NaN;
        const factor = wrong.course === "drift" ? (Number.isNaN(days) ? 0 : days) : 1;
        return value - amount * factor;
      });
      drawn.columns = { ...drawn.columns, [name]: values };
    },
  };
}

/**
 * A team's scale, board or tape that reads too much or too little, the same all along or more every day: what it is off by is
 * drawn from its distribution (`drawOffsetsOfGroups`) and taken off the team's measurements.
 */
export const teamInstruments: RepairFile = (world, draws) => {
  const found = instrumentModel(world);
  if (found === null) return [];
  const random = randomStream(seedFor(world.settings.seed, "repair/instruments"));
  const drawn = drawOffsetsOfGroups(found.model, draws, random);
  return Array.from({ length: found.model.groupCount }, (_, team) => repairOf(world, found, drawn, team)).filter(
    (repair) => repair !== null,
  );
};
