import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Chart, Message, Reading, Table } from "../../results/schema.js";
import { common, findingKind, noticedTeams, values } from "./digit-words.js";
import { chanceBand, type DigitNumbers, type DigitSeries } from "./digits.js";
import { keptBackNotes, toldOf } from "./told.js";

function panel(
  numbers: DigitNumbers,
  { label, of }: { readonly label: Message | string; readonly of: GroupId },
  series: DigitSeries,
  reading?: Reading,
) {
  const expected = 1 / numbers.digits.length;
  return {
    label,
    n: series.n,
    of,
    ...(reading === undefined ? {} : { reading }),
    bars: numbers.digits.map((category, digit) => ({
      category,
      share: series.shares[digit] ?? 0,
      expected,
      ...chanceBand(expected, series.n),
    })),
  };
}

/** Shares of the digits, of all and of each team. */
export function charts(numbers: DigitNumbers, reading: Reading): Chart[] {
  const { overall } = numbers;
  if (overall === null) return [];
  const id = `${numbers.measure.name}-digits`;
  const given = values(numbers);
  const x = { label: message(`${common}.chart.digit`, given) };
  const teams = toldOf(numbers.teams).flatMap((team) =>
    team.series === null ? [] : [panel(numbers, team, team.series, team.reading)],
  );
  const whole: Chart = {
    id,
    kind: "category-shares",
    title: message(`${common}.chart.title`, given),
    alternative: message(`checks.${id}.finding.${findingKind(numbers, reading)}`, given),
    x,
    panels: [panel(numbers, { label: message(`${common}.chart.all`, given), of: numbers.of }, overall)],
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

/** The same numbers as a table. */
export function tables(numbers: DigitNumbers): Table[] {
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
  const teams = toldOf(numbers.teams);
  return [
    {
      id: `${numbers.measure.name}-digits`,
      of: [numbers.of, ...teams.map(({ of }) => of)],
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
        ...teams.map((team) =>
          row(team.label, team.series, team.n, team.series === null ? null : team.adjustedProbability, team.reading),
        ),
      ],
      notes: [message(`${common}.table.note`, given), ...keptBackNotes(numbers.teams)],
    },
  ];
}
