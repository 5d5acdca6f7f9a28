import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import { severity } from "../results/reading.js";
import type { Chart, Message, Quantity, Table, TableCell } from "../results/schema.js";
import { surveyName } from "./cells.js";
import type { SummaryCheck, SurveySummary } from "./summary.js";

/** The figures of a check that tell most of it; for other checks the first two that are held against chance are taken. */
const chosenFigures: Readonly<Record<string, readonly string[]>> = {
  "missing-values": ["missing-any"],
  "duplicate-rows": ["equal-pairs"],
  "sex-balance": ["share-of-boys"],
  "age-groups": ["age-group-dissimilarity"],
  "younger-older-ratio": ["younger-per-older"],
  "age-heaping": ["whole-years-ratio"],
  "weight-digits": ["digit-dissimilarity"],
  "height-digits": ["digit-dissimilarity"],
  "arm-digits": ["digit-dissimilarity"],
  "measuring-position": ["other-position"],
  "implausible-values": ["outside-fixed-weight-for-height", "outside-fixed-height-for-age"],
  spread: ["standard-deviation-weight-for-height", "standard-deviation-height-for-age"],
  shape: ["skewness-weight-for-height", "excess-kurtosis-weight-for-height"],
  "clusters-differ": ["case-dispersion-wasting"],
  "teams-differ": ["team-means-test-weight-for-height"],
};
const mostFigures = 2;

/** One survey's side of a check. */
export interface Entry {
  readonly survey: SurveySummary;
  readonly check: SummaryCheck;
}

export function figuresOf(entries: readonly Entry[]): readonly string[] {
  const id = entries[0]?.check.id ?? "";
  const chosen = chosenFigures[id];
  if (chosen !== undefined) return chosen;
  const withChance = entries.flatMap(({ check }) =>
    check.quantities.filter(({ chance, interval }) => chance !== undefined || interval !== undefined),
  );
  return [...new Set(withChance.map((quantity) => quantity.id))].slice(0, mostFigures);
}

/** How far a figure lies outside what chance alone gives, in widths of that band; 0 inside or where no band is known. */
function outside({ value, chance }: Quantity): number {
  if (value === null || chance?.low === undefined || chance.high === undefined) return 0;
  const width = chance.high - chance.low;
  const beyond = Math.max(chance.low - value, value - chance.high, 0);
  return width > 0 ? beyond / width : beyond;
}

export type Panel = Extract<Chart, { kind: "against-chance" }>["panels"][number];

/** The most serious readings first, then the farthest outside chance, then the largest value. */
export function panelOf(entries: readonly Entry[], figure: string): Panel | null {
  const found = entries.flatMap(({ survey, check }) => {
    const quantity = check.quantities.find(({ id }) => id === figure);
    return quantity?.value == null ? [] : [{ survey, check, quantity, value: quantity.value }];
  });
  const first = found[0];
  if (first === undefined) return null;
  found.sort(
    (a, b) =>
      severity[b.check.reading] - severity[a.check.reading] ||
      outside(b.quantity) - outside(a.quantity) ||
      b.value - a.value,
  );
  return {
    label: message(`quantity.${figure}`),
    unit: first.quantity.unit,
    rows: found.map(({ survey, check, quantity, value }) => ({
      label: surveyName(survey),
      n: quantity.n ?? survey.children,
      value,
      low: quantity.interval?.low ?? null,
      high: quantity.interval?.high ?? null,
      expected: quantity.chance?.expected ?? null,
      chanceLow: quantity.chance?.low ?? null,
      chanceHigh: quantity.chance?.high ?? null,
      reading: check.reading,
    })),
  };
}

export function figureTable(id: string, check: Message, entries: readonly Entry[], figures: readonly string[]): Table {
  const unitOf = (figure: string): Quantity["unit"] =>
    entries.flatMap((entry) => entry.check.quantities).find((quantity) => quantity.id === figure)?.unit ?? "statistic";
  const label = (name: string): Message => message(`compare.quality.table.${name}`);
  const columns: Table["columns"] = [
    { id: "survey", label: label("survey"), unit: "text" },
    { id: "reading", label: label("reading"), unit: "reading" },
    ...figures.flatMap((figure): Table["columns"] => [
      { id: figure, label: message(`quantity.${figure}`), unit: unitOf(figure) },
      { id: `${figure}-low`, label: label("chance-low"), unit: unitOf(figure) },
      { id: `${figure}-high`, label: label("chance-high"), unit: unitOf(figure) },
    ]),
    { id: "children", label: label("children"), unit: "count" },
  ];
  const ordered = [...entries].sort((a, b) => severity[b.check.reading] - severity[a.check.reading]);
  const rows = ordered.map(({ survey, check: own }): TableCell[] => [
    surveyName(survey),
    own.reading,
    ...figures.flatMap((figure): TableCell[] => {
      const quantity = own.quantities.find((one) => one.id === figure);
      return [quantity?.value ?? null, quantity?.chance?.low ?? null, quantity?.chance?.high ?? null];
    }),
    survey.children,
  ]);
  return {
    id: `quality-${id}`,
    of: fromResults,
    caption: message("compare.quality.table.caption", { check }),
    columns,
    rows,
  };
}
