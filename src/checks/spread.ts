import { message } from "../results/message.js";
import type { Chart, GroupReading, Message, Quantity, Reading, Table } from "../results/schema.js";
import type { Check, Said } from "./check.js";
import { fewestForSpread, type GroupSpread, groupSpreads, type IndexSpread, indexSpreads } from "./spread-numbers.js";
import { narrowBelow, researchGrade } from "./spread-reference.js";
import { unweightedDesign } from "./unweighted-design.js";

/**
 * Whether z-scores spread more, or less, than careful measurement of one population would have them. A wide spread is
 * real differences between children, or error of measurement and age: the figure alone cannot say which. Error widens
 * the spread, and a wider spread puts more children below every cut-off.
 */
export interface SpreadNumbers {
  readonly indices: readonly IndexSpread[];
  readonly groups: readonly GroupSpread[];
}

function noticedGroups(numbers: SpreadNumbers): readonly GroupSpread[] {
  return numbers.groups.filter(
    ({ by, reading }) =>
      (by === "team" || by === "area" || by === "stratum") && (reading === "explain" || reading === "doubt"),
  );
}

function judge(numbers: SpreadNumbers): Reading {
  const readings = numbers.indices.map((one) => one.reading);
  if (readings.includes("doubt")) return "doubt";
  return readings.includes("explain") || noticedGroups(numbers).length > 0 ? "explain" : "expected";
}

/** The index the finding speaks of: the one read worst, and of those the one furthest above its line. */
function headline(numbers: SpreadNumbers): IndexSpread | undefined {
  const rank = (one: IndexSpread) => (one.reading === "doubt" ? 2 : one.reading === "explain" ? 1 : 0);
  const beyond = (one: IndexSpread) => Math.abs(Math.log(one.fixed.value / one.reference.explainAbove));
  const noticed = numbers.indices.filter((one) => one.reading !== "expected");
  if (noticed.length === 0) return numbers.indices[0];
  return [...noticed].sort((a, b) => rank(b) - rank(a) || beyond(b) - beyond(a))[0];
}

function indexValues(one: IndexSpread) {
  return {
    index: message(`index.${one.reference.index}`),
    sd: one.fixed.value,
    low: one.fixed.low,
    high: one.fixed.high,
    n: one.fixed.n,
    around: one.aroundMean.value,
    setAside: one.setAsideFixed,
    setAsideAround: one.setAsideAroundMean,
    explainAbove: one.reference.explainAbove,
    doubtAbove: one.reference.doubtAbove,
    narrowBelow,
  };
}

function finding(numbers: SpreadNumbers, reading: Reading): Message {
  const first = headline(numbers);
  if (first === undefined) return message("checks.spread.finding.unknown");
  const groups = noticedGroups(numbers);
  if (reading !== "expected" && first.reading === "expected") {
    return message("checks.spread.finding.groups", {
      groups: groupNames(groups),
      groupCount: new Set(groupNames(groups)).size,
    });
  }
  const kind = first.reading === "expected" ? "expected" : first.side;
  return message(`checks.spread.finding.${kind}`, { ...indexValues(first), indexCount: numbers.indices.length });
}

function groupNames(groups: readonly GroupSpread[]): string[] {
  return [...new Set(groups.map((group) => group.label))];
}

function say(numbers: SpreadNumbers, reading: Reading): Said {
  const told = (part: string): Message =>
    message(`checks.spread.${part}`, {
      researchLow: researchGrade.low,
      researchHigh: researchGrade.high,
      narrowBelow,
      fewest: fewestForSpread,
    });
  const wide = numbers.indices.some((one) => one.side === "wide");
  const narrow = numbers.indices.some((one) => one.side === "narrow");
  const groups = noticedGroups(numbers);
  const tails = numbers.indices.filter((one) => one.fixed.value - one.aroundMean.value > 0.1);
  return {
    finding: finding(numbers, reading),
    meaning: [
      ...numbers.indices.map((one) => message("checks.spread.meaning.index", indexValues(one))),
      ...(wide ? [told("meaning.wide")] : []),
      ...(narrow ? [told("meaning.narrow")] : []),
      ...(tails.length > 0
        ? [
            message("checks.spread.meaning.tails", {
              indices: tails.map((one) => message(`index.${one.reference.index}`)),
            }),
          ]
        : []),
      ...groups.map((group) =>
        message(`checks.spread.meaning.${group.by}`, {
          group: group.label,
          index: message(`index.${group.index}`),
          sd: group.spread.value,
          low: group.spread.low,
          high: group.spread.high,
          n: group.spread.n,
        }),
      ),
      ...(reading === "expected" ? [told("meaning.not-proof")] : []),
    ],
    causes: [
      ...(wide || groups.length > 0 ? [told("cause.real"), told("cause.measuring"), told("cause.age")] : []),
      ...(narrow ? [told("cause.narrow-population"), told("cause.narrow-entry")] : []),
    ],
    actions: [
      ...(wide || groups.length > 0 ? [told("action.compare-groups"), told("action.repeat")] : []),
      ...(narrow ? [told("action.trace")] : []),
    ],
    method: [told("method.statistic"), told("method.lines"), told("method.groups"), told("method.reading")],
  };
}

function quantities(numbers: SpreadNumbers): Quantity[] {
  return numbers.indices.flatMap((one): Quantity[] => {
    const { index, explainAbove } = one.reference;
    const interval = { low: one.fixed.low, high: one.fixed.high, level: 0.95 };
    const around = { low: one.aroundMean.low, high: one.aroundMean.high, level: 0.95 };
    const test: Quantity[] = Number.isNaN(one.teamsTest.probability)
      ? []
      : [
          {
            id: `team-spread-test-${index}`,
            unit: "statistic",
            value: one.teamsTest.f,
            n: one.fixed.n,
            probability: one.teamsTest.probability,
            chance: { expected: 1 },
          },
        ];
    return [
      {
        id: `standard-deviation-${index}`,
        unit: "z",
        value: one.fixed.value,
        n: one.fixed.n,
        interval,
        chance: { expected: 1, low: narrowBelow, high: explainAbove },
      },
      {
        id: `standard-deviation-around-mean-${index}`,
        unit: "z",
        value: one.aroundMean.value,
        n: one.aroundMean.n,
        interval: around,
      },
      ...test,
    ];
  });
}

function groups(numbers: SpreadNumbers): GroupReading[] {
  const keys = [...new Set(numbers.groups.map((group) => `${group.by}\n${group.label}`))];
  const order: readonly Reading[] = ["expected", "explain", "doubt"];
  return keys.flatMap((key) => {
    const own = numbers.groups.filter((group) => `${group.by}\n${group.label}` === key);
    const first = own[0];
    if (first === undefined) return [];
    const worst = own.reduce<Reading>(
      (so, one) => (order.indexOf(one.reading) > order.indexOf(so) ? one.reading : so),
      "expected",
    );
    const adjusted = own.map((one) => one.adjustedProbability).filter((p) => !Number.isNaN(p));
    return [
      {
        by: first.by,
        label: first.label,
        n: Math.max(...own.map((one) => one.spread.n)),
        reading: worst,
        quantities: own.map((one) => ({
          id: `standard-deviation-${one.index}`,
          unit: "z" as const,
          value: one.spread.value,
          n: one.spread.n,
          interval: { low: one.spread.low, high: one.spread.high, level: 0.95 },
        })),
        ...(adjusted.length > 0 ? { adjustedProbability: Math.min(...adjusted) } : {}),
      },
    ];
  });
}

/** Areas and teams print their own labels; sex and age groups are words. */
function groupLabel(group: GroupSpread): Message | string {
  return group.by === "sex" || group.by === "age-group" ? message(`checks.spread.group.${group.label}`) : group.label;
}

function chart(numbers: SpreadNumbers, one: IndexSpread): Chart {
  const own = numbers.groups.filter((group) => group.index === one.reference.index);
  return {
    id: `spread-${one.reference.index}`,
    kind: "intervals",
    title: message("checks.spread.chart.title", indexValues(one)),
    alternative: message("checks.spread.meaning.index", indexValues(one)),
    x: { label: message("checks.spread.chart.axis"), unit: "z" },
    ...(one.reference.observed === null
      ? {}
      : { band: { ...one.reference.observed, label: message("checks.spread.chart.observed") } }),
    lines: [
      { at: 1, label: message("checks.spread.chart.standard") },
      { at: one.reference.explainAbove, label: message("checks.spread.chart.explain") },
    ],
    rows: [
      {
        label: message("checks.spread.chart.all"),
        value: one.fixed.value,
        low: one.fixed.low,
        high: one.fixed.high,
        n: one.fixed.n,
        reading: one.reading,
      },
      ...own.map((group) => ({
        group: message(`checks.spread.by.${group.by}`),
        label: groupLabel(group),
        value: group.spread.value,
        low: group.spread.low,
        high: group.spread.high,
        n: group.spread.n,
        reading: group.reading,
        ...(group.spread.n < 50 ? { marked: true } : {}),
      })),
    ],
  };
}

function tables(numbers: SpreadNumbers): Table[] {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.spread.table.${id}`),
    unit,
  });
  return [
    {
      id: "spread",
      caption: message("checks.spread.table.caption"),
      columns: [
        column("index", "text"),
        column("group", "text"),
        column("n", "count"),
        column("sd", "z"),
        column("low", "z"),
        column("high", "z"),
        column("ratio", "ratio"),
        column("adjusted", "probability"),
        column("reading", "reading"),
      ],
      rows: numbers.indices.flatMap((one) => {
        const index = message(`index.${one.reference.index}`);
        const own = numbers.groups.filter((group) => group.index === one.reference.index);
        const around = one.aroundMean;
        return [
          [
            index,
            message("checks.spread.chart.all"),
            one.fixed.n,
            one.fixed.value,
            one.fixed.low,
            one.fixed.high,
            null,
            null,
            one.reading,
          ],
          [
            index,
            message("checks.spread.table.around-mean"),
            around.n,
            around.value,
            around.low,
            around.high,
            null,
            null,
            null,
          ],
          ...own.map((group) => [
            index,
            groupLabel(group),
            group.spread.n,
            group.spread.value,
            group.spread.low,
            group.spread.high,
            Number.isNaN(group.ratio) ? null : group.ratio,
            Number.isNaN(group.adjustedProbability) ? null : group.adjustedProbability,
            group.reading,
          ]),
        ];
      }),
      notes: [message("checks.spread.table.note")],
    },
  ];
}

export const spread: Check<SpreadNumbers> = {
  id: "spread",
  section: "what",
  needs: ["any-index"],
  sources: [
    "mei-2007",
    "conkle-2017",
    "bilukha-2023",
    "crowe-2014",
    "bilukha-2020",
    "brown-forsythe-1974",
    "benjamini-hochberg-1995",
    "spread-lines",
  ],
  compute: ({ children }) => {
    const design = unweightedDesign(children);
    const indices = indexSpreads(children, design);
    if (indices.length === 0) return { cannotTell: message("checks.spread.unknown.few", { fewest: fewestForSpread }) };
    return { indices, groups: groupSpreads(children, design, indices) };
  },
  judge,
  quantities,
  groups,
  say,
  charts: (numbers) => numbers.indices.map((one) => chart(numbers, one)),
  tables,
};
