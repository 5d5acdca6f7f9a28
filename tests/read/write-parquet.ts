import { gzipSync } from "node:zlib";

/** A column of a Parquet file; null is a missing value. */
export type ParquetColumn =
  | {
      readonly name: string;
      readonly type: "text";
      readonly values: readonly (string | null)[];
      /** A list of texts in each row. */
      readonly repeated?: true;
    }
  | {
      readonly name: string;
      readonly type: "double" | "float" | "int" | "date" | "timestamp";
      readonly values: readonly (number | null)[];
    }
  | {
      readonly name: string;
      readonly type: "decimal";
      readonly scale: number;
      readonly values: readonly (number | null)[];
    };

/** Types of the Thrift compact protocol. */
const thrift = { i32: 5, i64: 6, binary: 8, list: 9, struct: 12 } as const;

type Field =
  | { readonly id: number; readonly kind: "i32" | "i64"; readonly value: number }
  | { readonly id: number; readonly kind: "binary"; readonly value: string }
  | { readonly id: number; readonly kind: "struct"; readonly value: Buffer }
  | {
      readonly id: number;
      readonly kind: "list";
      readonly of: "i32" | "binary" | "struct";
      readonly value: readonly Buffer[];
    };

function varint(value: number): Buffer {
  const bytes: number[] = [];
  let rest = BigInt(value);
  do {
    const low = Number(rest & 0x7fn);
    rest >>= 7n;
    bytes.push(rest === 0n ? low : low | 0x80);
  } while (rest > 0n);
  return Buffer.from(bytes);
}

const zigzag = (value: number): Buffer => varint(value >= 0 ? value * 2 : -value * 2 - 1);
const binary = (text: string): Buffer => Buffer.concat([varint(Buffer.byteLength(text)), Buffer.from(text)]);

function body(field: Field): Buffer {
  switch (field.kind) {
    case "i32":
    case "i64":
      return zigzag(field.value);
    case "binary":
      return binary(field.value);
    case "struct":
      return field.value;
    default: {
      const { length } = field.value;
      const type = thrift[field.of];
      const head =
        length < 15 ? Buffer.from([(length << 4) | type]) : Buffer.concat([Buffer.from([0xf0 | type]), varint(length)]);
      return Buffer.concat([head, ...field.value]);
    }
  }
}

/** A struct of the Thrift compact protocol, fields in the order of their ids. */
function struct(fields: readonly Field[]): Buffer {
  let last = 0;
  const parts = fields.map((field) => {
    const head = Buffer.from([((field.id - last) << 4) | thrift[field.kind]]);
    last = field.id;
    return Buffer.concat([head, body(field)]);
  });
  return Buffer.concat([...parts, Buffer.from([0])]);
}

const i32 = (id: number, value: number): Field => ({ id, kind: "i32", value });
const i64 = (id: number, value: number): Field => ({ id, kind: "i64", value });

/** Physical and converted types of the format (parquet-format, Thrift definition). */
const types = {
  text: { physical: 6, converted: 0, width: 0 },
  double: { physical: 5, converted: null, width: 8 },
  float: { physical: 4, converted: null, width: 4 },
  int: { physical: 1, converted: null, width: 4 },
  date: { physical: 1, converted: 6, width: 4 },
  decimal: { physical: 1, converted: 5, width: 4 },
  timestamp: { physical: 2, converted: 9, width: 8 },
} as const;

function plainValue(column: ParquetColumn, value: string | number): Buffer {
  const { width } = types[column.type];
  if (typeof value === "string") {
    const bytes = Buffer.from(value);
    const length = Buffer.alloc(4);
    length.writeUInt32LE(bytes.length);
    return Buffer.concat([length, bytes]);
  }
  const bytes = Buffer.alloc(width);
  if (column.type === "double") bytes.writeDoubleLE(value);
  else if (column.type === "float") bytes.writeFloatLE(value);
  else if (column.type === "timestamp") bytes.writeBigInt64LE(BigInt(value));
  else if (column.type === "decimal") bytes.writeInt32LE(Math.round(value * 10 ** column.scale));
  else bytes.writeInt32LE(value);
  return bytes;
}

/** Definition levels of one bit each, in the hybrid encoding's bit-packed form. */
function definitionLevels(present: readonly boolean[]): Buffer {
  const groups = Math.ceil(present.length / 8);
  const bits = Buffer.alloc(groups);
  present.forEach((is, i) => {
    if (is) bits[i >> 3] = (bits[i >> 3] ?? 0) | (1 << (i & 7));
  });
  const levels = Buffer.concat([varint((groups << 1) | 1), bits]);
  const length = Buffer.alloc(4);
  length.writeUInt32LE(levels.length);
  return Buffer.concat([length, levels]);
}

function page(column: ParquetColumn, from: number, to: number, packed: boolean): Buffer {
  const values = column.values.slice(from, to);
  const plain = values.flatMap((value) => (value === null ? [] : [plainValue(column, value)]));
  const data = Buffer.concat([definitionLevels(values.map((value) => value !== null)), ...plain]);
  const stored = packed ? gzipSync(data) : data;
  const header = struct([
    i32(1, 0),
    i32(2, data.length),
    i32(3, stored.length),
    { id: 5, kind: "struct", value: struct([i32(1, values.length), i32(2, 0), i32(3, 3), i32(4, 3)]) },
  ]);
  return Buffer.concat([header, stored]);
}

function schemaElement(column: ParquetColumn): Buffer {
  const { physical, converted } = types[column.type];
  const repetition = "repeated" in column ? 2 : 1;
  const fields: Field[] = [i32(1, physical), i32(3, repetition), { id: 4, kind: "binary", value: column.name }];
  if (converted !== null) fields.push(i32(6, converted));
  if (column.type === "decimal") fields.push(i32(7, column.scale), i32(8, 9));
  return struct(fields);
}

/** A Parquet file (parquet-format 2): optional columns, plain values, one page a column and group of rows; `packed` with gzip. */
export function parquetOf(columns: readonly ParquetColumn[], rowsInGroup = 1 << 20, packed = false): Buffer {
  const rows = columns[0]?.values.length ?? 0;
  const pieces: Buffer[] = [Buffer.from("PAR1")];
  let offset = 4;
  const groups: Buffer[] = [];
  for (let from = 0; from < rows; from += rowsInGroup) {
    const to = Math.min(rows, from + rowsInGroup);
    const chunks = columns.map((column) => {
      const bytes = page(column, from, to, packed);
      const start = offset;
      pieces.push(bytes);
      offset += bytes.length;
      const encodings = [zigzag(0), zigzag(3)];
      const meta = struct([
        i32(1, types[column.type].physical),
        { id: 2, kind: "list", of: "i32", value: encodings },
        { id: 3, kind: "list", of: "binary", value: [binary(column.name)] },
        i32(4, packed ? 2 : 0),
        i64(5, to - from),
        i64(6, bytes.length),
        i64(7, bytes.length),
        i64(9, start),
      ]);
      return struct([i64(2, start), { id: 3, kind: "struct", value: meta }]);
    });
    groups.push(struct([{ id: 1, kind: "list", of: "struct", value: chunks }, i64(2, offset), i64(3, to - from)]));
  }
  const root = struct([{ id: 4, kind: "binary", value: "schema" }, i32(5, columns.length)]);
  const footer = struct([
    i32(1, 1),
    { id: 2, kind: "list", of: "struct", value: [root, ...columns.map(schemaElement)] },
    i64(3, rows),
    { id: 4, kind: "list", of: "struct", value: groups },
  ]);
  const length = Buffer.alloc(4);
  length.writeUInt32LE(footer.length);
  return Buffer.concat([...pieces, footer, length, Buffer.from("PAR1")]);
}
