// Packs the seven growth-standard tables into src/derive/growth-standards/tables.ts:
//
//   node tests/tools/pack-growth-standards.mjs FOLDER
//
// FOLDER holds one CSV a table with the header sex,day|cm,l,m,s[,position], boys first, keys rising. Prints the module
// to standard output. Refuses a table with a gap, another step, or more decimals than the packing keeps.
import { readFileSync } from "node:fs";
import { join } from "node:path";

const tables = [
  { id: "length-height-for-age", key: "day", rowsPerUnit: 1 },
  { id: "weight-for-age", key: "day", rowsPerUnit: 1 },
  { id: "bmi-for-age", key: "day", rowsPerUnit: 1 },
  { id: "weight-for-length", key: "cm", rowsPerUnit: 10 },
  { id: "weight-for-height", key: "cm", rowsPerUnit: 10 },
  { id: "arm-circumference-for-age", key: "day", rowsPerUnit: 1 },
  { id: "head-circumference-for-age", key: "day", rowsPerUnit: 1 },
];
const parameters = [
  { name: "l", scale: 10000 },
  { name: "m", scale: 10000 },
  { name: "s", scale: 100000 },
];

/** A decimal text as a whole number of 1/scale; throws where that would lose a digit. */
function whole(text, scale) {
  const value = Math.round(Number(text) * scale);
  if (!Number.isFinite(value) || value / scale !== Number(text)) throw new Error(`'${text}' does not fit 1/${scale}`);
  return value;
}

/** First value, then the difference to the value before; a run of equal ones as 'differencexlength'. */
function packed(values) {
  const differences = values.map((value, i) => (i === 0 ? value : value - values[i - 1]));
  const words = [];
  for (let from = 0; from < differences.length; ) {
    let to = from + 1;
    while (to < differences.length && differences[to] === differences[from]) to++;
    words.push(to - from > 1 ? `${differences[from]}x${to - from}` : `${differences[from]}`);
    from = to;
  }
  return words.join(" ");
}

function packTable(folder, { id, key, rowsPerUnit }) {
  const lines = readFileSync(join(folder, `${id}.csv`), "utf8")
    .trim()
    .split("\n");
  const header = lines[0].split(",");
  const rows = lines.slice(1).map((line) => Object.fromEntries(line.split(",").map((cell, i) => [header[i], cell])));
  const sexes = ["male", "female"].map((sex) => rows.filter((row) => row.sex === sex));
  const keys = sexes.map((ofSex) => ofSex.map((row) => whole(row[key], rowsPerUnit)));
  const first = keys[0][0];
  for (const column of keys) {
    if (column.length !== keys[0].length) throw new Error(`${id}: the sexes differ in length`);
    if (column.some((value, i) => value !== first + i)) throw new Error(`${id}: the keys have a gap`);
  }
  const series = (ofSex) =>
    parameters
      .map(({ name, scale }) => `      ${name}: "${packed(ofSex.map((row) => whole(row[name], scale)))}",`)
      .join("\n");
  return `  "${id}": {
    firstKey: ${first / rowsPerUnit},
    rowsPerUnit: ${rowsPerUnit},
    rows: ${keys[0].length},
    male: {
${series(sexes[0])}
    },
    female: {
${series(sexes[1])}
    },
  },`;
}

const folder = process.argv[2];
if (folder === undefined) {
  process.stderr.write(
    "usage: node tests/tools/pack-growth-standards.mjs FOLDER > src/derive/growth-standards/tables.ts\n",
  );
  process.exit(2);
}
process.stdout.write(`// Made by tests/tools/pack-growth-standards.mjs: do not edit. How to read it stands in README.md beside it.
/** The seven tables as text: whole numbers of 1/10000 (l, m) and 1/100000 (s), as differences from row to row. */
export const packedTables = {
${tables.map((table) => packTable(folder, table)).join("\n")}
} as const;
`);
