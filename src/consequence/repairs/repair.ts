import type { ChangedColumns } from "../../derive/rescore.js";
import type { CheckId } from "../../results/check-ids.js";
import type { Message } from "../../results/schema.js";
import type { RandomStream } from "../../stats/random.js";
import { columnBefore } from "../changed.js";
import type { Headline, World } from "../scenario.js";

/** Chance of each child without a measure to be a case of an estimate; NaN for children who were judged. */
export type ChancesOfAbsent = (headline: Headline) => Float64Array | null;

/** The survey as one draw has it, while repairs are applied to it one after the other. */
export interface Drawn {
  columns: ChangedColumns;
  /** 1 for records that count; null where all do. */
  counted: Uint8Array | null;
  absent: ChancesOfAbsent | null;
}

/** A finding put right, once in each draw. Its random stream is its own, so that it is the same alone and among others. */
export interface Repair {
  /** 'digits/weight', 'instrument/2': key in results.json. */
  readonly id: string;
  readonly label: Message;
  /** Checks whose finding it puts right. */
  readonly checks: readonly CheckId[];
  /** Public label of the team that it is about; null where it is about no single one. */
  readonly team: string | null;
  /** 1 for children whose data some draw changes, adds or leaves out. */
  readonly touched: Uint8Array;
  /** What was found out on the way, in words: an offset with its standard error. */
  readonly found?: Message;
  /** The chance that there is anything to put right, where that is itself drawn. */
  readonly chance?: number;
  /** Of a team's instrument: what it is off by in each draw (of a drift, on the team's mean day), in the measure's unit. */
  readonly instrument?: {
    readonly name: "scale" | "board" | "tape";
    readonly amounts: readonly number[];
    /** To what a known weight or length is read on it, and one child measured again: standard deviations. */
    readonly readingError: number;
    readonly remeasureError: number;
  };
  apply(drawn: Drawn, draw: number, random: RandomStream): void;
}

/** The repairs of a kind that this survey's findings ask for. */
export type RepairFile = (world: World, draws: number) => readonly Repair[];

/** The columns that repairs change number by number. */
export type RepairedColumn = "weight" | "height" | "arm" | "ageDays";

/** A column as the draw has it so far; null where the survey has none. */
export function columnIn({ children }: World, drawn: Drawn, name: RepairedColumn): Float64Array | null {
  return drawn.columns[name] ?? columnBefore(children, name);
}
