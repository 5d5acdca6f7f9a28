import { describe, expect, it } from "vitest";
import { withCodes } from "../../src/columns/label-codes.js";
import type { CodedColumn } from "../../src/columns/survey.js";

const columnOf = (labels: readonly string[]): CodedColumn => ({
  name: "team",
  codes: Int32Array.from(labels, (_, i) => i),
  labels,
  publicLabels: labels,
  disguised: false,
});
const codesOf = (labels: readonly string[], secret = "", group: "teams" | "clusters" = "teams") => {
  const coded = withCodes(columnOf(labels), group, secret);
  return Object.fromEntries(coded.publicLabels.map((code, i) => [coded.labels[i] ?? "", code]));
};

const labels = Array.from({ length: 12 }, (_, i) => `Village ${i + 1}`);

describe("codes for labels", () => {
  it("are as many as there are labels, all of one width, and tell nothing of them", () => {
    const codes = Object.values(codesOf(labels, "", "clusters"));
    expect([...codes].sort()).toEqual(Array.from({ length: 12 }, (_, i) => `C${String(i + 1).padStart(2, "0")}`));
    expect(withCodes(columnOf(labels), "teams", "").disguised).toBe(true);
  });

  it("leave every row its label, and list the labels in the order of the codes", () => {
    const coded = withCodes(columnOf(labels), "teams", "s");
    expect(Array.from(coded.codes, (code) => coded.labels[code])).toEqual(labels);
    expect(coded.publicLabels).toEqual([...coded.publicLabels].sort());
  });

  it("do not depend on the order in the file", () => {
    expect(codesOf([...labels].reverse(), "s")).toEqual(codesOf(labels, "s"));
  });

  it("follow neither the alphabet nor the order in the file", () => {
    const inOrder = labels.map((_, i) => `T${String(i + 1).padStart(2, "0")}`);
    for (const secret of ["", "one", "two"]) {
      expect(labels.map((label) => codesOf(labels, secret)[label])).not.toEqual(inOrder);
      expect([...labels].sort().map((label) => codesOf(labels, secret)[label])).not.toEqual(inOrder);
    }
  });

  it("change with the secret: each label gets nearly every code over a hundred secrets", () => {
    const met = new Set(Array.from({ length: 100 }, (_, i) => codesOf(labels, `secret ${i}`)["Village 1"]));
    expect(met.size).toBeGreaterThanOrEqual(10);
  });

  it("differ between teams and clusters of the same labels", () => {
    const number = (code: string | undefined) => code?.slice(1);
    const teams = codesOf(labels, "s");
    const clusters = codesOf(labels, "s", "clusters");
    expect(labels.every((label) => number(teams[label]) === number(clusters[label]))).toBe(false);
  });
});
