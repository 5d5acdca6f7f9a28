import { describe, expect, it } from "vitest";
import { loadWords } from "../../src/render/words.js";
import { blockSchema } from "../../src/results/comparison.js";
import type { Message, MessageValue } from "../../src/results/schema.js";
import { sources } from "../../src/results/sources.js";
import { blocksOf, later, place } from "./blocks-of.js";

const spread = [0.06, 0.14, 0.1, 0.08, 0.12, 0.11];

describe("levels of one round", () => {
  const { levels, changes } = blocksOf(spread.map((value, i) => place(i, value)));
  const [wasting, mean] = levels;

  it("the finding tells lowest and highest and that chance alone would not give it", () => {
    expect(levels.map(({ id }) => id)).toEqual(["levels-wasting", "levels-mean-weight-for-height"]);
    expect(wasting?.finding.id).toBe("compare.level.finding.differ");
    expect(wasting?.finding.values).toMatchObject({
      surveys: 6,
      lowPlace: "P0",
      highPlace: "P1",
      low: { id: "compare.value.proportion", values: { value: 0.06 } },
      high: { id: "compare.value.proportion", values: { value: 0.14 } },
    });
    expect(mean?.finding.values.low).toMatchObject({ id: "compare.value.mean" });
  });

  it("the picture has every survey, highest first, the table of pairs the clearest first", () => {
    const [chart] = wasting?.charts ?? [];
    if (chart?.kind !== "intervals") throw new Error("no picture");
    expect(chart.rows.map(({ value }) => value)).toEqual([...spread].sort((a, b) => b - a));
    const pairs = wasting?.tables.find(({ id }) => id === "places-wasting");
    expect(pairs?.rows).toHaveLength(15);
    expect(pairs?.rows[0]?.[3]).toBeCloseTo(0.08, 12);
    expect(changes).toEqual([]);
  });

  it("surveys that agree are not said to differ", () => {
    const same = blocksOf([0.1, 0.101, 0.099, 0.1].map((value, i) => place(i, value))).levels[0];
    expect(same?.finding.id).toBe("compare.level.finding.chance");
    expect(same?.meaning.map(({ id }) => id)).not.toContain("compare.level.meaning.tau");
  });
});

describe("many surveys", () => {
  const rounds = (count: number) =>
    Array.from({ length: count }, (_, i) => [
      place(i, 0.05 + 0.1 * (i / count), { key: `a${i}` }),
      place(i, 0.05 + 0.1 * (((i * 7) % count) / count), { key: `b${i}`, ...later }),
    ]).flat();

  it("draws the two ends of the latest round, cuts the printed tables, and keeps the whole", () => {
    const { levels, changes } = blocksOf(rounds(250));
    const [chart] = levels[0]?.charts ?? [];
    if (chart?.kind !== "intervals") throw new Error("no picture");
    expect(chart.rows).toHaveLength(80);
    expect(chart.rows[0]?.value).toBeCloseTo(0.05 + 0.1 * (249 / 250), 12);
    expect(chart.rows.at(-1)?.value).toBeCloseTo(0.05, 12);
    const leftOut = levels[0]?.meaning.find(({ id }) => id === "compare.level.left-out");
    expect(leftOut?.values).toEqual({ drawn: 80, leftOut: 420 });
    expect(levels[0]?.tables[0]?.rows).toHaveLength(500);
    const tables = changes[0]?.tables.map(({ id, rows }) => [id, rows.length]);
    expect(tables).toEqual([
      ["rounds-wasting", 40],
      ["rounds-wasting-all", 250],
    ]);
    const [panels] = changes[0]?.charts ?? [];
    expect(panels?.kind === "rounds" ? panels.panels.length : 0).toBe(24);
  });
});

describe("words and shape", () => {
  const surveys = spread.map((value, i) => place(i, value, { populationSize: 1000 * (i + 1) }));
  const after = spread.map((value, i) =>
    place(i, value + (i === 2 ? 0.08 : 0), { key: `later${i}`, ...later, populationSize: i === 0 ? null : 500 }),
  );
  const odd = place(9, 0.2, { definition: { ageFrom: 0, weighted: true }, toolVersion: "2" });
  const { comparability, levels, changes } = blocksOf([...surveys, ...after, odd]);
  const blocks = [comparability, ...levels, ...changes];

  const isMessage = (value: MessageValue): value is Message => typeof value === "object" && "id" in value;
  const messagesIn = (value: unknown): Message[] => {
    if (typeof value !== "object" || value === null) return [];
    if (Array.isArray(value)) return value.flatMap(messagesIn);
    const own = isMessage(value as Message) && "values" in value ? [value as Message] : [];
    return [...own, ...Object.values(value).flatMap(messagesIn)];
  };

  it("every message has its words and its values", () => {
    const words = loadWords("en");
    const all = messagesIn(blocks);
    expect(all.length).toBeGreaterThan(100);
    for (const one of all) words.text(one);
    expect([...words.missing]).toEqual([]);
  });

  it("every block is of the contract and cites listed sources", () => {
    for (const block of blocks) {
      expect(blockSchema.parse(block).id).toBe(block.id);
      for (const source of block.sources) expect(sources.has(source), source).toBe(true);
    }
    expect(new Set(blocks.map(({ id }) => id)).size).toBe(blocks.length);
  });
});
