import { createHash } from "node:crypto";
import type { CodedColumn } from "./survey.js";

/** Whose labels can be replaced by codes. */
export const codedGroups = ["clusters", "teams"] as const;
export type CodedGroup = (typeof codedGroups)[number];

const letterOf: Readonly<Record<CodedGroup, string>> = { clusters: "C", teams: "T" };

function fingerprint(group: CodedGroup, label: string, secret: string): string {
  return createHash("sha256")
    .update(JSON.stringify([secret, group, label]))
    .digest("hex");
}

/**
 * The column with a code ('T3', 'C07') for every label. Labels are numbered in the order of their SHA-256 with the secret:
 * neither by the alphabet nor as they stand in the file, which would tell who is who; the same labels and secret give the
 * same codes, whatever rows are corrected, added or sorted. Without a secret somebody who knows all labels can work the
 * numbers out; the secret is never printed. The column's labels are then in the order of their codes: in any other, a list of groups
 * would tell of it.
 */
export function withCodes(column: CodedColumn, group: CodedGroup, secret: string): CodedColumn {
  const order = column.labels
    .map((label, at) => ({ at, mark: fingerprint(group, label, secret) }))
    .sort((a, b) => (a.mark < b.mark ? -1 : 1));
  const width = String(order.length).length;
  const place = new Int32Array(order.length);
  order.forEach(({ at }, i) => {
    place[at] = i;
  });
  return {
    ...column,
    codes: column.codes.map((code) => (code < 0 ? code : (place[code] as number))),
    labels: order.map(({ at }) => column.labels[at] ?? ""),
    publicLabels: order.map((_, i) => `${letterOf[group]}${String(i + 1).padStart(width, "0")}`),
    disguised: true,
  };
}

/**
 * Another column that is printed, with the codes of a coded column in place of the labels that both have, where that is at
 * least half of its own: printed there, they would tell what the codes stand for. A column that shares a few numbers with the
 * teams by chance keeps its own.
 */
export function withoutCodedLabels(column: CodedColumn, coded: readonly CodedColumn[]): CodedColumn {
  for (const other of coded) {
    const codeOf = new Map(other.labels.map((label, at) => [label, other.publicLabels[at] ?? ""]));
    const shared = column.labels.filter((label) => codeOf.has(label)).length;
    if (column.name === other.name || shared < column.labels.length / 2) continue;
    const publicLabels = column.labels.map((label, at) => codeOf.get(label) ?? column.publicLabels[at] ?? "");
    return { ...column, publicLabels, disguised: true };
  }
  return column;
}
