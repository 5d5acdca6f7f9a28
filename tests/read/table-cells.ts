import { expect } from "vitest";
import type { InputProblem } from "../../src/read/problem.js";
import type { ReadNote, TextTable } from "../../src/read/table.js";
import { mustHaveWords, problemsOf } from "../columns/make-table.js";

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The table as rows of text, column by column. */
export function cells(table: TextTable): Record<string, string[]> {
  return Object.fromEntries(
    table.columns.map((column) => [column.name, [...column.codes].map((code) => column.values[code] ?? "?")]),
  );
}

/** What is wrong with a file that cannot be read; every problem has words. */
export async function refusal(reading: Promise<unknown>): Promise<readonly InputProblem[]> {
  const error = await reading.catch((thrown: unknown) => thrown);
  expect(error).toMatchObject({ exitCode: 2 });
  return problemsOf(() => {
    throw error;
  });
}

/** What the reader noted; every note has words. */
export function notesOf(table: TextTable): readonly ReadNote[] {
  const notes = table.notes ?? [];
  for (const { id, values } of notes) mustHaveWords({ id: `input.note.${id}`, values });
  return notes;
}
