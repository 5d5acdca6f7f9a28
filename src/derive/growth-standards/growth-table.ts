import { packedTables } from "./tables.js";

export type GrowthTableId = keyof typeof packedTables;

/** L, M and S of one sex, one entry a row. */
interface Parameters {
  readonly l: Float64Array;
  readonly m: Float64Array;
  readonly s: Float64Array;
}

/** One growth-standard table, unpacked. */
export interface GrowthTable {
  readonly id: GrowthTableId;
  /** Key of the first row: a day of age, or a length or height in cm. */
  readonly firstKey: number;
  /** Rows per unit of the key: 1 a day, 10 a centimetre. */
  readonly rowsPerUnit: number;
  readonly rows: number;
  /** The last row of length where length gives way to height (nothing may be read between it and the next row); -1 where nothing changes. */
  readonly lastLengthRow: number;
  /** True where L is not 1 in every row: z-scores beyond -3 and +3 then take the restricted form. */
  readonly restricted: boolean;
  readonly male: Parameters;
  readonly female: Parameters;
}

/** Text of whole-number differences, a run of equal ones as 'differencexlength', to numbers. */
function unpacked(text: string, rows: number, scale: number): Float64Array {
  const values = new Float64Array(rows);
  let row = 0;
  let sum = 0;
  for (const word of text.split(" ")) {
    const [difference, length = "1"] = word.split("x");
    for (let run = Number(length); run > 0; run--) {
      sum += Number(difference);
      values[row++] = sum / scale;
    }
  }
  return values;
}

function parametersOf(packed: Readonly<Record<"l" | "m" | "s", string>>, rows: number): Parameters {
  return {
    l: unpacked(packed.l, rows, 10_000),
    m: unpacked(packed.m, rows, 10_000),
    s: unpacked(packed.s, rows, 100_000),
  };
}

// Day 730 is the last day of length, day 731 the first of height (WHO Child Growth Standards 2006, expanded tables).
const lastLengthDay = 730;
const changing: readonly GrowthTableId[] = ["length-height-for-age", "bmi-for-age"];

function load(id: GrowthTableId): GrowthTable {
  const { firstKey, rowsPerUnit, rows, ...packed } = packedTables[id];
  const male = parametersOf(packed.male, rows);
  const female = parametersOf(packed.female, rows);
  const lastLengthRow = changing.includes(id) ? lastLengthDay - firstKey : -1;
  const restricted = [male, female].some(({ l }) => l.some((value) => value !== 1));
  return { id, firstKey, rowsPerUnit, rows, lastLengthRow, restricted, male, female };
}

const loaded = new Map<GrowthTableId, GrowthTable>();

/** A table of the WHO Child Growth Standards; unpacked when first asked for and kept. */
export function growthTable(id: GrowthTableId): GrowthTable {
  const known = loaded.get(id);
  if (known !== undefined) return known;
  const table = load(id);
  loaded.set(id, table);
  return table;
}
