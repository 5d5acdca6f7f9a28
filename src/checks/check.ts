import type { Children } from "../derive/children.js";
import type { GroupBook } from "../disclosure/book.js";
import type { CheckId } from "../results/check-ids.js";
import type { Chart, GroupReading, Message, Quantity, Reading, Section, Table } from "../results/schema.js";
import type { SourceId } from "../results/sources.js";
import type { SurveySettings } from "../settings/settings.js";

/** What a check may ask for. The runner tests each; where one is absent the check reads `unknown` and says which. */
export type Need =
  | "sex"
  | "age"
  | "birth-date"
  | "weight"
  | "height"
  | "arm"
  | "position"
  | "cluster"
  | "team"
  | "interview-date"
  | "entry-time"
  | "weight-for-height"
  | "any-index";

/** Everything a check works on. It reads nothing else: no clock, no file, no random source of its own. */
export interface CheckInput {
  readonly children: Children;
  readonly settings: SurveySettings;
  /** Seed of this check's own random stream: derived from the survey's seed and the check's id, so that checks do not disturb each other. */
  readonly seed: number;
  /** Where the groups of children are entered that the check tells of. */
  readonly book: GroupBook;
}

/** Returned by `compute` when the data are there but say too little (one child, all values identical). */
export interface CannotTell {
  readonly cannotTell: Message;
}

/** A row of the file that someone should look at. Goes to rows-to-check.csv only, never into the report. */
export interface RowToCheck {
  /** Row as a spreadsheet shows it. */
  readonly sheetRow: number;
  /** Original names of the columns concerned; what stands there is looked up in the file. */
  readonly columns: readonly string[];
  /** True where the age matters too: then the columns it comes from are shown with the others. */
  readonly byAge?: boolean;
  /** What is unusual. */
  readonly message: Message;
  /** What may have gone wrong, where one slip would explain it; never applied. */
  readonly suggestion?: Message;
}

/** What the check says, as message ids with raw values. */
export interface Said {
  readonly finding: Message;
  readonly meaning: readonly Message[];
  readonly causes: readonly Message[];
  readonly actions: readonly Message[];
  readonly method: readonly Message[];
}

/**
 * A quality check: one file in this folder. `Numbers` is the check's own plain result: unrounded numbers with their
 * uncertainty, and for each group. `judge` turns numbers into a reading, `say` into message ids, `chart` and `table`
 * into things to draw; none of them sees the data.
 */
export interface Check<Numbers> {
  /** File name, key in results.json and anchor in the report. */
  readonly id: CheckId;
  readonly section: Section;
  readonly needs: readonly Need[];
  /** Ids of sources.ts. */
  readonly sources: readonly SourceId[];
  compute(input: CheckInput): Numbers | CannotTell;
  judge(numbers: Numbers): Reading;
  quantities(numbers: Numbers): readonly Quantity[];
  groups?(numbers: Numbers): readonly GroupReading[];
  say(numbers: Numbers, reading: Reading): Said;
  charts?(numbers: Numbers, reading: Reading): readonly Chart[];
  tables?(numbers: Numbers): readonly Table[];
  rows?(numbers: Numbers, input: CheckInput): readonly RowToCheck[];
}
