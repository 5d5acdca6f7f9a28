import { comparableOf } from "../../src/compare/comparable.js";
import { notStated } from "../../src/results/group.js";
import type {
  Chart,
  CheckResult,
  EstimateCell,
  EstimateResult,
  Message,
  Reading,
  Results,
} from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";

/**
 * A complete set of results for a survey that never took place: every number is invented, none was computed from children. It
 * exercises every kind of chart, every reading, withheld, marked and unknown cells, and long texts.
 */

/** Text of the sample alone: its words are in sample-words.json. */
const say = (id: string, values: Message["values"] = {}): Message => message(`sample.${id}`, values);

/** Normal-shaped bins of half a z-score. */
function bins(n: number, mean: number, deviation: number): { from: number; to: number; count: number }[] {
  const list = [];
  for (let from = -5.5; from < 5; from += 0.5) {
    const z = (from + 0.25 - mean) / deviation;
    list.push({ from, to: from + 0.5, count: Math.round(((n * 0.5) / deviation) * Math.exp((-z * z) / 2) * 0.39894) });
  }
  return list;
}

/** Ten digits with more or less on 0 and 5. */
function digits(n: number, heap: number) {
  const share = (digit: number): number =>
    (digit === 0 || digit === 5 ? 0.1 + heap : 0.1 - heap / 4) + ((digit * 7) % 5) * 0.002 - 0.004;
  const room = 1.96 * Math.sqrt(0.09 / n);
  return Array.from({ length: 10 }, (_, digit) => ({
    category: String(digit),
    share: share(digit),
    expected: 0.1,
    low: 0.1 - room,
    high: 0.1 + room,
  }));
}

const teams = [
  { label: "team 1", n: 152, heap: 0.01, reading: "expected" },
  { label: "team 2", n: 148, heap: 0.02, reading: "expected" },
  { label: "team 3", n: 151, heap: 0.24, reading: "doubt" },
  { label: "team 4", n: 149, heap: 0.07, reading: "explain" },
  { label: "team 5", n: 156, heap: 0.015, reading: "expected" },
  { label: "team 6", n: 18, heap: 0.03, reading: "unknown" },
] as const;

const heightCharts: Chart[] = [
  {
    kind: "category-shares",
    id: "height-digits-all",
    title: say("digits.chart.title"),
    alternative: say("digits.chart.alternative", { share: 0.34 }),
    x: { label: say("digits.axis") },
    panels: [{ of: notStated, label: say("all-children"), n: 893, reading: "doubt", bars: digits(893, 0.07) }],
  },
  {
    kind: "category-shares",
    id: "height-digits-teams",
    title: say("digits.chart.teams"),
    alternative: say("digits.chart.teams.alternative"),
    x: { label: say("digits.axis") },
    panels: teams.map((team) => ({
      label: team.label,
      n: team.n,
      of: notStated,
      reading: team.reading,
      bars: digits(team.n, team.heap),
    })),
  },
];

const blank: Omit<CheckResult, "id" | "section" | "reading" | "finding"> = {
  quantities: [],
  groups: [],
  meaning: [],
  causes: [],
  actions: [],
  method: [],
  sources: [],
  charts: [],
  tables: [],
  rowsToCheck: 0,
};

const heightDigits: CheckResult = {
  ...blank,
  id: "height-digits",
  section: "how",
  reading: "doubt",
  finding: say("digits.finding", { share: 0.34, n: 893 }),
  quantities: [
    {
      of: notStated,
      id: "share-on-0-and-5",
      unit: "share",
      value: 0.34,
      n: 893,
      interval: { low: 0.309, high: 0.372, level: 0.95 },
      chance: { expected: 0.2, low: 0.174, high: 0.226 },
      probability: 2e-9,
    },
    {
      of: notStated,
      id: "digit-score",
      unit: "index",
      value: 15.4,
      n: 893,
      chance: { expected: 3.2, high: 4.6 },
      probability: 2e-9,
    },
    { of: notStated, id: "repeat-difference", unit: "centimetre", value: null, reason: say("reason.no-repeats") },
  ],
  groups: teams.map((team) => ({
    by: "team",
    of: notStated,
    label: team.label,
    n: team.n,
    reading: team.reading,
    quantities: [
      { id: "share-on-0-and-5", of: notStated, unit: "share", value: team.n < 25 ? null : 0.2 + team.heap * 2 },
      { id: "digit-score", of: notStated, unit: "index", value: team.n < 25 ? null : 6 + team.heap * 90 },
    ],
    ...(team.n < 25 ? {} : { adjustedProbability: team.heap > 0.2 ? 1e-12 : team.heap > 0.05 ? 0.011 : 0.62 }),
  })),
  meaning: [say("digits.meaning.1"), say("digits.meaning.2")],
  causes: [say("digits.cause.1"), say("digits.cause.2")],
  actions: [say("digits.action.1"), say("digits.action.2")],
  method: [say("digits.method.1"), say("digits.method.2")],
  sources: ["monica-1998", "digit-practice"],
  charts: heightCharts,
  consequence: say("digits.consequence", { shift: 0.012 }),
  rowsToCheck: 0,
};

const ages = Array.from({ length: 60 }, (_, month) => {
  const heaped = month % 12 === 0 && month > 0;
  const count = Math.round(15 - month * 0.02 + (heaped ? 14 : ((month * 13) % 7) - 3));
  const expected = 15 - month * 0.02;
  return { at: month, count, expected, low: expected - 7.4, high: expected + 7.7, emphasis: heaped };
});

const ageHeaping: CheckResult = {
  ...blank,
  id: "age-heaping",
  section: "who",
  reading: "explain",
  finding: say("ages.finding", { ratio: 1.94 }),
  quantities: [
    {
      of: notStated,
      id: "ratio-at-whole-years",
      unit: "ratio",
      value: 1.94,
      n: 880,
      interval: { low: 1.58, high: 2.31, level: 0.95 },
      chance: { expected: 1, low: 0.76, high: 1.25 },
      probability: 0.00004,
    },
  ],
  meaning: [say("ages.meaning")],
  causes: [say("ages.cause")],
  actions: [say("ages.action")],
  method: [say("ages.method")],
  sources: ["larsen-2019"],
  charts: [
    {
      of: notStated,
      kind: "counts-over",
      id: "age-heaping-months",
      title: say("ages.chart.title"),
      alternative: say("ages.chart.alternative"),
      x: { label: say("ages.axis"), unit: "month" },
      bars: ages,
    },
  ],
  rowsToCheck: 37,
};

const spread: CheckResult = {
  ...blank,
  id: "spread",
  section: "what",
  reading: "expected",
  finding: say("spread.finding", { sd: 1.08 }),
  quantities: [
    {
      of: notStated,
      id: "sd-weight-for-height",
      unit: "z",
      value: 1.084,
      n: 874,
      interval: { low: 1.021, high: 1.147, level: 0.95 },
    },
    {
      of: notStated,
      id: "mean-weight-for-height",
      unit: "z",
      value: -0.8231,
      n: 874,
      interval: { low: -0.94, high: -0.7062, level: 0.95 },
    },
  ],
  meaning: [say("spread.meaning")],
  method: [say("spread.method")],
  sources: ["mei-2007"],
  charts: [
    {
      kind: "z-distribution",
      id: "spread-wfh",
      title: say("spread.chart.one"),
      alternative: say("spread.chart.one.alternative"),
      panels: [
        {
          of: notStated,
          label: say("index.wfh"),
          n: 874,
          mean: -0.82,
          standardDeviation: 1.08,
          bins: bins(874, -0.82, 1.08),
        },
      ],
    },
    {
      kind: "z-distribution",
      id: "spread-all",
      title: say("spread.chart.title"),
      alternative: say("spread.chart.alternative"),
      panels: [
        {
          of: notStated,
          label: say("index.wfh"),
          n: 874,
          mean: -0.82,
          standardDeviation: 1.08,
          bins: bins(874, -0.82, 1.08),
        },
        {
          of: notStated,
          label: say("index.hfa"),
          n: 861,
          mean: -1.51,
          standardDeviation: 1.31,
          bins: bins(861, -1.51, 1.31),
        },
        {
          of: notStated,
          label: say("index.wfa"),
          n: 866,
          mean: -1.42,
          standardDeviation: 1.12,
          bins: bins(866, -1.42, 1.12),
        },
      ],
    },
    {
      kind: "intervals",
      id: "spread-groups",
      title: say("spread.chart.groups"),
      alternative: say("spread.chart.groups.alternative"),
      x: { label: say("spread.axis"), unit: "z" },
      band: { low: 0.9, high: 1.15, label: say("spread.band") },
      lines: [{ at: 1, label: say("spread.line") }],
      rows: [
        {
          of: notStated,
          group: say("by-age"),
          label: say("age", { from: 0, to: 5 }),
          value: 1.21,
          low: 1.02,
          high: 1.4,
          n: 41,
          reading: "explain",
          marked: true,
        },
        {
          of: notStated,
          group: say("by-age"),
          label: say("age", { from: 6, to: 23 }),
          value: 1.11,
          low: 1.02,
          high: 1.2,
          n: 291,
          reading: "expected",
        },
        {
          of: notStated,
          group: say("by-age"),
          label: say("age", { from: 24, to: 59 }),
          value: 1.03,
          low: 0.97,
          high: 1.09,
          n: 542,
          reading: "expected",
        },
        ...teams.map((team) => ({
          of: notStated,
          group: say("by-team"),
          label: team.label,
          value: team.n < 25 ? null : 1.05 + team.heap,
          low: team.n < 25 ? null : 0.93 + team.heap,
          high: team.n < 25 ? null : 1.17 + team.heap,
          n: team.n,
          reading: team.reading,
        })),
        {
          of: notStated,
          group: say("by-area"),
          label: "A district with an unusually long name that has to break into lines",
          value: 1.1,
          low: 1,
          high: 1.2,
          n: 302,
          reading: "expected" as const,
        },
      ],
    },
  ],
};

const arm: CheckResult = {
  ...blank,
  id: "arm-digits",
  section: "how",
  reading: "unknown",
  reason: say("reason.no-arm"),
  finding: message("checks.unknown.finding", {
    check: message("checks.arm-digits.title"),
    reason: say("reason.no-arm"),
  }),
};

const teamsDiffer: CheckResult = {
  ...blank,
  id: "teams-differ",
  section: "where",
  reading: "doubt",
  finding: say("drift.finding", { team: "team 3", drift: -0.4 }),
  meaning: [say("drift.meaning")],
  causes: [say("drift.cause")],
  actions: [say("drift.action")],
  method: [say("drift.method")],
  sources: ["larsen-2019", "mei-2007"],
  rowsToCheck: 4,
  charts: [
    {
      kind: "lines",
      id: "drift-one",
      title: say("drift.chart.one"),
      alternative: say("drift.chart.alternative"),
      x: { label: say("drift.axis.error"), unit: "kilogram" },
      y: { label: say("drift.axis.prevalence"), unit: "share" },
      verticals: [
        { at: -0.1, label: say("drift.tolerance") },
        { at: 0.18, label: say("drift.tipping") },
      ],
      horizontals: [{ at: 0.15, label: say("drift.limit") }],
      panels: [
        {
          of: notStated,
          label: say("all-children"),
          points: Array.from({ length: 61 }, (_, i) => ({
            of: notStated,
            x: -0.3 + i / 100,
            y: 0.12 + i * 0.001,
            low: 0.095 + i * 0.0009,
            high: 0.15 + i * 0.0011,
          })),
          fitted: [],
        },
      ],
    },
    {
      kind: "lines",
      id: "drift-teams",
      title: say("drift.chart.title"),
      alternative: say("drift.chart.alternative"),
      x: { label: say("drift.axis.day"), unit: "day" },
      y: { label: say("drift.axis.mean"), unit: "z" },
      verticals: [],
      horizontals: [{ at: -0.82, label: say("drift.all") }],
      panels: teams.map((team, at) => ({
        label: team.label,
        of: notStated,
        reading: team.reading,
        points: Array.from({ length: 9 }, (_, day) => {
          const y = -0.82 + ((day * 5 + at) % 4) * 0.08 - 0.1 - (at === 2 ? day * 0.06 : 0);
          return { of: notStated, x: day + 1, y, low: y - 0.28, high: y + 0.28, n: Math.round(team.n / 9) };
        }),
        fitted: [
          { x: 1, y: -0.8 },
          { x: 9, y: at === 2 ? -1.3 : -0.84 },
        ],
      })),
    },
  ],
  tables: [
    {
      of: notStated,
      id: "teams-differ-means",
      caption: say("drift.table"),
      columns: [
        { id: "team", label: say("drift.column.team"), unit: "text" },
        { id: "children", label: say("drift.column.children"), unit: "count" },
        { id: "mean", label: say("drift.column.mean"), unit: "z" },
        { id: "p", label: say("drift.column.p"), unit: "probability" },
        { id: "reading", label: say("drift.column.reading"), unit: "reading" },
      ],
      rows: teams.map((team, at) => [
        team.label,
        team.n,
        at === 5 ? null : -0.8 - team.heap,
        at === 5 ? null : at === 2 ? 0.0000004 : 0.41,
        team.reading,
      ]),
      notes: [say("drift.note")],
    },
  ],
};

function cellOf(label: Message | string, n: number, value: number | null, design = 1.42): EstimateCell {
  const status = n < 25 ? "withheld" : value === null ? "unknown" : n < 50 ? "marked" : "shown";
  const kept = status === "withheld" ? null : value;
  const error = kept === null ? null : Math.sqrt((kept * (1 - kept) * design) / n);
  return {
    label,
    of: notStated,
    n,
    clusters: kept === null ? null : 34,
    status,
    value: kept,
    standardError: error,
    degreesOfFreedom: kept === null ? null : 31,
    interval:
      kept === null || error === null
        ? null
        : { low: Math.max(0.001, kept - 2.04 * error), high: kept + 2.04 * error, level: 0.95 },
    intervalMethod: kept === null ? null : "logit",
    designEffect: kept === null ? null : design,
    ...(status === "withheld" ? { reason: say("cell.few") } : {}),
  };
}

const wastingLimits = ["very-low", "low", "medium", "high", "very-high"].map((name, i) => ({
  class: name,
  from: [0, 0.025, 0.05, 0.1, 0.15][i] ?? 0,
}));
const stuntingLimits = ["very-low", "low", "medium", "high", "very-high"].map((name, i) => ({
  class: name,
  from: [0, 0.025, 0.1, 0.2, 0.3][i] ?? 0,
}));
const underweightLimits = ["low", "medium", "high", "very-high"].map((name, i) => ({
  class: name,
  from: [0, 0.1, 0.2, 0.3][i] ?? 0,
}));

function proportion(
  id: string,
  family: string,
  value: number,
  n: number,
  classes?: { scheme: string; at: string; span: string[]; limits: { class: string; from: number }[] },
): EstimateResult {
  const overall = cellOf(say("all-children"), n, value);
  return {
    id,
    family,
    kind: "proportion",
    overall: classes === undefined ? overall : { ...overall, classification: { ...classes, probabilities: [] } },
    byExclusion: [
      { rule: "around-mean", excluded: 14, cell: cellOf(say("all-children"), n - 14, value - 0.006) },
      { rule: "none", excluded: 0, cell: cellOf(say("all-children"), n + 6, value + 0.004) },
    ],
    subgroups: [
      {
        by: "sex",
        cells: [
          cellOf(message("sex.male"), Math.round(n * 0.51), value * 1.1),
          cellOf(message("sex.female"), Math.round(n * 0.49), value * 0.9),
        ],
        test: { statistic: 1.7, numeratorDf: 1, denominatorDf: 31, probability: 0.202 },
      },
      {
        by: "age-group",
        cells: [
          cellOf(message("age-group", { from: 0, to: 5 }), 41, value * 1.5),
          cellOf(message("age-group", { from: 6, to: 23 }), 291, value * 1.2),
          cellOf(message("age-group", { from: 24, to: 59 }), n - 332, value * 0.85),
        ],
        test: { statistic: 9.1, numeratorDf: 1.9, denominatorDf: 58.2, probability: 0.0004 },
      },
      {
        by: "column",
        columnName: "Displacement status as recorded by the interviewer",
        cells: [cellOf("resident", n - 60, value), cellOf("returned", 19, null), cellOf("displaced", 41, null)],
      },
    ],
    sources: ["de-onis-2019"],
  };
}

const mean = (id: string, value: number, deviation: number): EstimateResult => ({
  id,
  family: "means",
  kind: "mean",
  overall: {
    ...cellOf(say("all-children"), 874, 0.5),
    value,
    interval: { low: value - 0.11, high: value + 0.11, level: 0.95 },
    intervalMethod: "t",
    standardDeviation: deviation,
  },
  byExclusion: [],
  subgroups: [],
  sources: ["who-2006"],
});

const estimates: EstimateResult[] = [
  proportion("wasting", "wasting", 0.128, 874, {
    scheme: "who-unicef-2019",
    at: "high",
    span: ["medium", "high", "very-high"],
    limits: wastingLimits,
  }),
  proportion("severe-wasting", "wasting", 0.024, 874),
  proportion("acute-malnutrition-combined", "acute-malnutrition", 0.152, 880),
  proportion("stunting", "stunting", 0.352, 861, {
    scheme: "who-unicef-2019",
    at: "very-high",
    span: ["very-high"],
    limits: stuntingLimits,
  }),
  proportion("underweight", "underweight", 0.284, 866, {
    scheme: "who-1995",
    at: "high",
    span: ["high", "very-high"],
    limits: underweightLimits,
  }),
  {
    ...proportion("overweight", "overweight", 0.012, 874),
    reason: say("reason.partly"),
    overall: null,
    byExclusion: [],
    subgroups: [],
  },
  mean("mean-weight-for-height", -0.82, 1.08),
  mean("mean-height-for-age", -1.51, 1.31),
];

const outside = { low: -5, high: 5 };
const noneMissing = [
  { reason: "measure missing", count: 11 },
  { reason: "oedema", count: 4 },
];

const parts: Omit<Results, "comparable"> = {
  format: "tareline-results",
  version: 3,
  groups: [],
  tool: { name: "Tareline", version: "0.1.0" },
  madeOn: "2025-03-21",
  survey: {
    name: "amber-hills",
    title: "Nutrition survey of the Amber Hills, March 2025",
    population: "Children aged 0 to 59 months in the three districts of the Amber Hills",
    language: "en",
    firstDay: "2025-03-03",
    lastDay: "2025-03-14",
    invented: true,
  },
  input: {
    file: "amber-hills.csv",
    bytes: 118204,
    sha256: "9f2c4e5b7a1d0c3e8f6b5a4d3c2b1a0f9e8d7c6b5a4f3e2d1c0b9a8f7e6d5c4b",
    encoding: "utf-8",
    delimiter: ";",
    settingsSha256: "0a1b2c3d4e5f60718293a4b5c6d7e8f90a1b2c3d4e5f60718293a4b5c6d7e8f9",
    rowsRead: 901,
    rowsUsed: 893,
    leftOut: [{ reason: "age-outside", count: 8 }],
  },
  settings: {
    title: "Nutrition survey of the Amber Hills, March 2025",
    name: "amber-hills",
    population: "Children aged 0 to 59 months in the three districts of the Amber Hills",
    language: "en",
    invented: true,
    ageRange: { from: 0, to: 59 },
    ageInMonths: "completed",
    expectations: { boysPerGirl: 1.03, underFiveMortality: 60, growthOfBirths: 0.025 },
    clustersInPopulation: null,
    exclusions: { default: "fixed", widthAroundMean: 3 },
    positionRule: "age",
    columns: { cluster: "grp/cluster_no", weight: "child/weight_kg", subgroups: ["status"] },
    seed: 20250314,
  },
  notes: [say("note.age"), say("note.delimiter")],
  design: {
    clusters: 34,
    strata: 3,
    weighted: true,
    finitePopulationCorrection: false,
    degreesOfFreedom: 31,
    singleClusterStrata: 0,
    teams: 6,
    days: 12,
  },
  children: {
    total: 893,
    boys: 452,
    girls: 441,
    sexUnknown: 0,
    ageUnknown: 3,
    ageFromMonths: 121,
    oedema: 4,
    scores: [
      {
        index: "weight-for-height",
        computed: 878,
        outsideFixed: 4,
        outsideAroundMean: 14,
        centre: -0.82,
        fixedLimits: outside,
        aroundMeanLimits: { low: -3.82, high: 2.18 },
        missing: noneMissing,
      },
      {
        index: "height-for-age",
        computed: 872,
        outsideFixed: 11,
        outsideAroundMean: 21,
        centre: -1.51,
        fixedLimits: { low: -6, high: 6 },
        aroundMeanLimits: { low: -4.51, high: 1.49 },
        missing: [{ reason: "measure missing", count: 18 }],
      },
      {
        index: "arm-for-age",
        computed: 0,
        outsideFixed: 0,
        outsideAroundMean: 0,
        centre: null,
        fixedLimits: outside,
        aroundMeanLimits: null,
        missing: [{ reason: "measure missing", count: 893 }],
      },
    ],
  },
  checks: [ageHeaping, heightDigits, arm, spread, teamsDiffer],
  estimates,
  story: {
    sentence: say("story.sentence", { value: 0.128, low: 0.102, high: 0.159 }),
    paragraphs: [say("story.paragraph")],
    findings: [
      { check: "height-digits", message: heightDigits.finding },
      { check: "teams-differ", message: teamsDiffer.finding },
      { check: "age-heaping", message: ageHeaping.finding },
    ],
    next: [say("digits.action.1"), say("drift.action"), say("ages.action")],
    cautions: [
      "invented",
      "not-a-diagnosis",
      "referral",
      "local-protocol",
      "validity",
      "small-teams",
      "no-identification",
    ].map((id) => say(`caution.${id}`)),
    headings: {
      who: say("heading.who"),
      how: say("heading.how"),
      what: say("heading.what"),
      where: say("heading.where"),
      prevalence: say("heading.prevalence"),
      "follow-up": say("heading.follow-up", { count: 41 }),
    },
  },
  sources: [
    {
      id: "who-2006",
      reference:
        "WHO Multicentre Growth Reference Study Group. WHO Child Growth Standards: length/height-for-age, weight-for-age, weight-for-length, weight-for-height and body mass index-for-age: methods and development. Geneva: World Health Organization; 2006.",
      status: "confirmed",
    },
    {
      id: "de-onis-2019",
      reference:
        "de Onis M, Borghi E, Arimond M, et al. Prevalence thresholds for wasting, overweight and stunting in children under 5 years. Public Health Nutrition 2019;22:175-9.",
      status: "partly",
    },
    {
      id: "mei-2007",
      reference:
        "Mei Z, Grummer-Strawn LM. Standard deviation of anthropometric Z-scores as a data quality assessment tool using the 2006 WHO growth standards. Bulletin of the World Health Organization 2007;85:441-8.",
      status: "confirmed",
    },
    {
      id: "monica-1998",
      reference:
        "Kuulasmaa K, Hense HW, Tolonen H. Quality assessment of data on blood pressure in the WHO MONICA Project. 1998.",
      status: "memory",
    },
    {
      id: "larsen-2019",
      reference:
        "Larsen AF, Headey D, Masters WA. Misreporting month of birth: diagnosis and implications for research on nutrition and early childhood in developing countries. Demography 2019;56.",
      status: "confirmed",
    },
    { id: "digit-practice", reference: "Looking at the last digit team by team.", status: "practice" },
  ],
};

export const sampleResults: Results = { ...parts, comparable: comparableOf(parts) };

/** The same survey with the consequence of its findings, a part that not every run computes. */
export function withConsequence(results: Results): Results {
  const row = (label: string, value: number, kind: "estimate" | "bound" | "sensitivity", group: string) => ({
    n: 0,
    marked: kind === "sensitivity",
    group: say(`scenario.${group}`),
    label: say("scenario.label", { label }),
    value,
    low: kind === "bound" ? null : value - 0.026,
    high: kind === "bound" ? null : value + 0.03,
    of: notStated,
    moves: value >= 0.15 || value < 0.1,
  });
  const rows = [
    row("nothing set aside", 0.132, "estimate", "exclusions"),
    row("limits around the mean", 0.122, "estimate", "exclusions"),
    ...teams.map((team, at) =>
      row(`without ${team.label}`, at === 2 ? 0.097 : 0.126 + at / 500, "estimate", "influence"),
    ),
    row("worst case for missing children", 0.156, "bound", "missing"),
    row("best case for missing children", 0.121, "bound", "missing"),
    row("all spread above 1 taken as error", 0.104, "sensitivity", "spread"),
  ];
  return {
    ...results,
    consequence: {
      draws: 0,
      answers: [],
      claims: [],
      sentences: [],
      repairs: [],
      withoutRepair: [],
      choices: [],
      influence: [],
      settling: [],
      tippingPoints: [],
      scenarios: [],
      heading: say("scenario.heading"),
      paragraphs: [say("scenario.paragraph")],
      method: [say("scenario.method")],
      charts: [
        {
          kind: "intervals",
          id: "scenarios",
          title: say("scenario.chart"),
          alternative: say("scenario.alternative"),
          x: { label: say("scenario.axis"), unit: "share" },
          counted: null,
          lines: wastingLimits.slice(1).map(({ from, class: name }) => ({ at: from, label: message(`class.${name}`) })),
          rows,
        },
      ],
      tables: [],
      sources: ["mei-2007"],
    },
  };
}

/** Every reading there is. */
export const readings: readonly Reading[] = ["expected", "explain", "doubt", "unknown"];
