import { message } from "../results/message.js";
import type { Chart, GroupReading, Message, Quantity, Reading, Table } from "../results/schema.js";
import type { Check, Need, Said } from "./check.js";
import {
  chanceBand,
  type DigitMeasure,
  type DigitNumbers,
  type DigitSeries,
  digitNumbers,
  judgeDigits,
  judgeStep,
  type TeamDigits,
} from "./digits.js";

const common = "checks.digits";

function seriesQuantities(series: DigitSeries, numbers: DigitNumbers): Quantity[] {
  const n = series.n;
  const share = (id: string, part: NonNullable<DigitSeries["zeroOrFive"]>): Quantity => ({
    id,
    unit: "share",
    value: part.value,
    n,
    interval: part.interval,
    chance: { expected: part.expected, low: part.low, high: part.high },
  });
  return [
    share("digit-share-zero", series.zero),
    ...(series.zeroOrFive === null ? [] : [share("digit-share-zero-or-five", series.zeroOrFive)]),
    {
      id: "digit-dissimilarity",
      unit: "share",
      value: series.dissimilarity,
      n,
      chance: { expected: series.dissimilarityChance.mean, low: 0, high: series.dissimilarityChance.upper95 },
    },
    {
      id: "digit-preference-score",
      unit: "index",
      value: series.score,
      n,
      chance: { expected: series.scoreChance.mean, low: 0, high: series.scoreChance.upper95 },
    },
    {
      id: "digit-chi-square",
      unit: "statistic",
      value: series.chiSquare,
      n,
      probability: series.probability,
      chance: { expected: series.degreesOfFreedom },
    },
    { id: "digit-added-spread", unit: numbers.measure.unit, value: series.addedSpread, n },
  ];
}

function quantities(numbers: DigitNumbers): Quantity[] {
  const unit = numbers.measure.unit;
  return [
    { id: "digit-step", unit, value: numbers.step, n: numbers.n },
    ...(numbers.stepSpread > 0
      ? [{ id: "digit-step-spread", unit, value: numbers.stepSpread, n: numbers.n } satisfies Quantity]
      : []),
    ...(numbers.overall === null ? [] : seriesQuantities(numbers.overall, numbers)),
  ];
}

function groups(numbers: DigitNumbers): GroupReading[] {
  return numbers.teams.map((team) => ({
    by: "team",
    label: team.label,
    n: team.n,
    reading: team.reading,
    quantities: team.series === null ? [] : seriesQuantities(team.series, numbers),
    ...(team.series === null ? {} : { adjustedProbability: team.adjustedProbability }),
  }));
}

/** What the finding is about: the step, the digits of the survey, or those of some teams. */
function findingKind(numbers: DigitNumbers, reading: Reading): string {
  if (reading === "expected" || reading === "unknown") return reading;
  if (judgeStep(numbers) === reading) return "step";
  // Where a minority of teams carries it, name them.
  const noticed = noticedTeams(numbers).length;
  return noticed > 0 && 2 * noticed < numbers.teams.length ? "teams" : "preferred";
}

function noticedTeams(numbers: DigitNumbers): readonly TeamDigits[] {
  return numbers.teams.filter((team) => team.reading === "explain" || team.reading === "doubt");
}

/** The digit that the noticed teams prefer most, and its share in the team that does so most. */
function topOfTeams(numbers: DigitNumbers, teams: readonly TeamDigits[]): { teamDigit: string; teamShare: number } {
  const shares = teams.flatMap((team) => (team.series?.shares ?? []).map((share, digit) => ({ share, digit })));
  const top = shares.reduce((best, one) => (one.share > best.share ? one : best), { share: 0, digit: 0 });
  return { teamDigit: numbers.digits[top.digit] ?? "", teamShare: top.share };
}

function values(numbers: DigitNumbers): Record<string, number | string | readonly string[]> {
  const { overall, measure } = numbers;
  const top = overall === null ? 0 : overall.shares.indexOf(Math.max(...overall.shares));
  const teams = noticedTeams(numbers);
  return {
    measure: measure.name,
    n: numbers.n,
    step: numbers.step,
    place: numbers.place,
    resolution: measure.resolution,
    stepSpread: numbers.stepSpread,
    stepSpreadZ: numbers.stepSpread / measure.oneZ,
    digits: numbers.digits,
    digitCount: numbers.digits.length,
    topDigit: numbers.digits[top] ?? "",
    topShare: overall?.shares[top] ?? 0,
    zero: overall?.zero.value ?? 0,
    zeroLow: overall?.zero.interval.low ?? 0,
    zeroHigh: overall?.zero.interval.high ?? 0,
    zeroExpected: overall?.zero.expected ?? 0,
    zeroOrFive: overall?.zeroOrFive?.value ?? 0,
    dissimilarity: overall?.dissimilarity ?? 0,
    dissimilarityChance: overall?.dissimilarityChance.mean ?? 0,
    dissimilarityUpper: overall?.dissimilarityChance.upper95 ?? 0,
    score: overall?.score ?? 0,
    scoreChance: overall?.scoreChance.mean ?? 0,
    addedSpread: overall?.addedSpread ?? 0,
    addedSpreadZ: (overall?.addedSpread ?? 0) / measure.oneZ,
    teams: teams.map((team) => team.label),
    teamCount: teams.length,
    teamsRead: numbers.teams.filter((team) => team.series !== null).length,
    ...topOfTeams(numbers, teams),
  };
}

function say(numbers: DigitNumbers, reading: Reading): Said {
  const given = values(numbers);
  const told = (part: string): Message => message(`${common}.${part}`, given);
  const kind = findingKind(numbers, reading);
  const noticed = reading === "explain" || reading === "doubt";
  const teams = noticedTeams(numbers).length > 0;
  const { overall } = numbers;
  return {
    finding: message(`checks.${numbers.measure.name}-digits.finding.${kind}`, given),
    meaning: [
      ...(overall === null ? [told(`meaning.${numbers.untestable}`)] : [told("meaning.numbers")]),
      ...(numbers.stepSpread > 0 ? [told("meaning.step")] : []),
      ...(noticed && overall !== null && overall.addedSpread > 0 ? [told("meaning.added-spread")] : []),
      ...(teams ? [told("meaning.teams")] : []),
      ...(noticed ? [] : [told("meaning.not-proof")]),
    ],
    causes: noticed ? [told("cause.rounding"), told(`cause.tool-${numbers.measure.name}`), told("cause.copying")] : [],
    actions: noticed
      ? [
          ...(teams ? [told("action.ask-teams")] : []),
          told(`action.tool-${numbers.measure.name}`),
          told("action.read-with-spread"),
        ]
      : [],
    method: [
      told("method.digits"),
      ...(overall === null ? [] : [told("method.statistics"), told("method.chance")]),
      ...(numbers.teams.length > 0 ? [told("method.teams")] : []),
      told("method.reading"),
    ],
  };
}

function panel(numbers: DigitNumbers, label: Message | string, series: DigitSeries, reading?: Reading) {
  const expected = 1 / numbers.digits.length;
  return {
    label,
    n: series.n,
    ...(reading === undefined ? {} : { reading }),
    bars: numbers.digits.map((category, digit) => ({
      category,
      share: series.shares[digit] ?? 0,
      expected,
      ...chanceBand(expected, series.n),
    })),
  };
}

function charts(numbers: DigitNumbers, reading: Reading): Chart[] {
  const { overall } = numbers;
  if (overall === null) return [];
  const id = `${numbers.measure.name}-digits`;
  const given = values(numbers);
  const x = { label: message(`${common}.chart.digit`, given) };
  const teams = numbers.teams.flatMap((team) =>
    team.series === null ? [] : [panel(numbers, team.label, team.series, team.reading)],
  );
  const whole: Chart = {
    id,
    kind: "category-shares",
    title: message(`${common}.chart.title`, given),
    alternative: message(`checks.${id}.finding.${findingKind(numbers, reading)}`, given),
    x,
    panels: [panel(numbers, message(`${common}.chart.all`, given), overall)],
  };
  if (teams.length < 2) return [whole];
  const alternative = noticedTeams(numbers).length > 0 ? "chart.teams-alternative" : "chart.teams-alternative-even";
  return [
    whole,
    {
      id: `${id}-teams`,
      kind: "category-shares",
      title: message(`${common}.chart.teams-title`, given),
      alternative: message(`${common}.${alternative}`, given),
      x,
      panels: teams,
    },
  ];
}

function tables(numbers: DigitNumbers): Table[] {
  const { overall } = numbers;
  if (overall === null) return [];
  const given = values(numbers);
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`${common}.table.${id}`, given),
    unit,
  });
  const row = (
    label: Message | string,
    series: DigitSeries | null,
    n: number,
    adjusted: number | null,
    reading: string,
  ) => [
    label,
    n,
    series?.zero.value ?? null,
    series?.zeroOrFive?.value ?? null,
    series?.dissimilarity ?? null,
    series?.dissimilarityChance.mean ?? null,
    series?.dissimilarityChance.upper95 ?? null,
    series?.score ?? null,
    series?.scoreChance.mean ?? null,
    adjusted,
    reading,
  ];
  return [
    {
      id: `${numbers.measure.name}-digits`,
      caption: message(`${common}.table.caption`, given),
      columns: [
        column("team", "text"),
        column("n", "count"),
        column("zero", "share"),
        column("zero-or-five", "share"),
        column("dissimilarity", "share"),
        column("dissimilarity-chance", "share"),
        column("dissimilarity-upper", "share"),
        column("score", "index"),
        column("score-chance", "index"),
        column("probability", "probability"),
        column("reading", "reading"),
      ],
      rows: [
        row(message(`${common}.table.all`), overall, overall.n, numbers.adjustedProbability, numbers.overallReading),
        ...numbers.teams.map((team) =>
          row(team.label, team.series, team.n, team.series === null ? null : team.adjustedProbability, team.reading),
        ),
      ],
      notes: [message(`${common}.table.note`, given)],
    },
  ];
}

/** The check of one measure's last digits: `weight-digits`, `height-digits` and `arm-digits` differ only in their measure. */
export function digitCheck(measure: DigitMeasure): Check<DigitNumbers> {
  return {
    id: `${measure.name}-digits`,
    section: "how",
    needs: [measure.name satisfies Need],
    sources: [
      "digit-preference-score",
      "dissimilarity-index",
      "benjamini-hochberg-1995",
      "digit-noise",
      "rounding-variance",
      ...(measure.name === "weight" ? [] : ["measure-to-a-millimetre"]),
    ],
    compute: ({ children }) => {
      const column = children[measure.name];
      const found = column === null ? "few" : digitNumbers(children, column, measure);
      if (found === "few" || found === "constant")
        return { cannotTell: message(`${common}.unknown.${found}`, { measure: measure.name }) };
      if (found.overall === null && judgeStep(found) === "expected") {
        return { cannotTell: message(`${common}.unknown.${found.untestable}`, { measure: measure.name }) };
      }
      return found;
    },
    judge: judgeDigits,
    quantities,
    groups,
    say,
    charts,
    tables,
  };
}
