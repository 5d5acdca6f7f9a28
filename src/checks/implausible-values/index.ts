/** z-scores no living child is likely to have: mostly slips in measuring, writing or age, and the surest sign of carelessness in the tails. */
import { indexIds } from "../../derive/children.js";
import { message } from "../../results/message.js";
import type { Quantity, Reading, Table } from "../../results/schema.js";
import type { Check } from "../check.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { fewestChildren, mostSerious, readDeparture, readGroupsTogether } from "../shared/reading.js";
import { type DrawnShares, findingVariant, shareChart, shareTable, unusualLabels } from "../shared/share-drawing.js";
import { groupReading, readGroups } from "../shared/shares.js";
import { toldOf } from "../shared/told.js";
import {
  fewestOutside,
  type ImplausibleNumbers,
  type IndexOutside,
  markAny,
  outsideOf,
  sizeLimits,
  teamsOf,
} from "./numbers.js";
import { rowsOf } from "./rows.js";

/** A chance below one in ten thousand is said in words. */
const smallestPrinted = 0.0001;

function overallReading(numbers: ImplausibleNumbers): Reading {
  return mostSerious(numbers.indices.map(({ reading }) => reading));
}

function judge(numbers: ImplausibleNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.scored)]);
}

/** The index with the largest share outside. */
function worstOf(numbers: ImplausibleNumbers): IndexOutside {
  return numbers.indices.reduce((worst, own) => (own.share > worst.share ? own : worst));
}

function drawn(numbers: ImplausibleNumbers, reading: Reading): DrawnShares {
  const teams = unusualLabels(numbers.teams);
  return {
    id: "implausible-values-teams",
    words: "checks.implausible-values.teams",
    unit: "share",
    overall: null,
    reading,
    groups: numbers.teams,
    values: { count: teams.length, total: numbers.teams.length, teams, share: numbers.anyOutside / numbers.scored },
    line: sizeLimits.explain,
  };
}

function tableOf(numbers: ImplausibleNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.implausible-values.column.${id}`),
    unit,
  });
  return {
    id: "implausible-values",
    of: numbers.indices.map(({ of }) => of),
    caption: message("checks.implausible-values.table.caption"),
    columns: [
      column("index", "text"),
      column("children", "count"),
      column("outside", "count"),
      column("share", "share"),
      column("low", "share"),
      column("high", "share"),
      column("expected", "share"),
      column("around-mean", "count"),
      column("reading", "reading"),
    ],
    rows: numbers.indices.map((own) => [
      message(`index.${own.index}`),
      own.n,
      own.outside,
      own.share,
      own.interval.low,
      own.interval.high,
      own.expected,
      own.outsideAroundMean,
      own.reading,
    ]),
    notes: [message("checks.implausible-values.table.note", { width: numbers.width })],
  };
}

export const implausibleValues: Check<ImplausibleNumbers> = {
  id: "implausible-values",
  section: "what",
  needs: ["any-index"],
  sources: [
    "who-2006",
    "dhs-mr33",
    "who-1995",
    "who-unicef-2019",
    "crowe-2014",
    "clopper-pearson-1934",
    "holm-1979",
    "benjamini-hochberg-1995",
  ],

  compute({ children, settings, book }) {
    const width = settings.exclusions.widthAroundMean;
    const indices = indexIds.flatMap((id) => outsideOf({ children, book }, id, width) ?? []);
    const marks = markAny(children);
    const { inDomain, isOutside } = marks;
    const subject = book.subject("implausible/any", inDomain);
    const scored = inDomain.reduce((sum, inside) => sum + inside, 0);
    if (indices.length === 0)
      return { cannotTell: message("checks.who.too-few", { n: scored, least: fewestChildren }) };
    const teams = teamsOf(
      children,
      Math.min(
        0.5,
        indices.reduce((sum, own) => sum + own.expected, 0),
      ),
      marks,
      subject,
    );
    const adjusted = adjustTogether(
      indices.map((own) => own.probability),
      [teams.map((team) => team.probability)],
    );
    return {
      of: subject.whole,
      indices: indices.map((own, i) => {
        const adjustedProbability = adjusted.overall[i] ?? Number.NaN;
        const size = own.outside < fewestOutside || own.share <= sizeLimits.explain ? 0 : own.share;
        return { ...own, adjustedProbability, reading: readDeparture(adjustedProbability, size, sizeLimits) };
      }),
      width,
      scored,
      anyOutside: isOutside.reduce((sum, outside) => sum + outside, 0),
      teams: readGroups(
        teams,
        adjusted.families[0] ?? [],
        (team) => (team.cases < fewestOutside ? 0 : team.share),
        sizeLimits,
      ),
    };
  },

  judge,

  quantities(numbers) {
    return numbers.indices.flatMap((own): Quantity[] => [
      {
        id: `outside-fixed-${own.index}`,
        of: own.of,
        unit: "share",
        value: own.share,
        n: own.n,
        interval: own.interval,
        chance: { expected: own.expected, low: 0, high: own.chanceHigh },
        probability: own.probability,
      },
      {
        id: `outside-around-mean-${own.index}`,
        of: own.of,
        unit: "share",
        value: own.outsideAroundMean / own.n,
        n: own.n,
        chance: { expected: own.expectedAroundMean },
      },
    ]);
  },

  groups: (numbers) =>
    toldOf(numbers.teams).map((team) =>
      groupReading(
        team,
        team.n === 0
          ? []
          : [
              {
                id: "any-outside-fixed",
                of: team.of,
                unit: "share",
                value: team.share,
                n: team.n,
                interval: team.interval,
                chance: { expected: team.expected, ...team.chance },
              },
            ],
      ),
    ),

  say(numbers, reading) {
    const worst = worstOf(numbers);
    const teams = unusualLabels(numbers.teams);
    const unusual = reading !== "expected";
    const values = {
      index: message(`index.${worst.index}`),
      share: worst.share,
      outside: worst.outside,
      n: worst.n,
      low: worst.interval.low,
      high: worst.interval.high,
      chance: message(
        `checks.implausible-values.chance.${worst.expected < smallestPrinted ? "next-to-none" : "share"}`,
        {
          expected: worst.expected,
        },
      ),
      any: numbers.anyOutside,
      scored: numbers.scored,
      teams,
      count: teams.length,
    };
    return {
      finding: message(`checks.implausible-values.finding.${findingVariant(reading, overallReading(numbers))}`, values),
      meaning: [
        message("checks.implausible-values.meaning.numbers", values),
        message(`checks.implausible-values.meaning.${unusual ? "unusual" : "expected"}`, values),
        ...(teams.length === 0 ? [] : [message("checks.implausible-values.meaning.teams", values)]),
      ],
      causes: unusual
        ? ["slips", "age", "extreme"].map((cause) => message(`checks.implausible-values.cause.${cause}`))
        : [],
      actions: [
        ...(numbers.anyOutside > 0 ? [message("checks.implausible-values.action.rows", values)] : []),
        ...(unusual ? [message("checks.implausible-values.action.rules")] : []),
      ],
      method: [
        message("checks.implausible-values.method.limits"),
        message("checks.implausible-values.method.chance"),
        message("checks.implausible-values.method.line", { explain: sizeLimits.explain, doubt: sizeLimits.doubt }),
        message("checks.implausible-values.method.around-mean", {
          width: numbers.width,
          expected: numbers.indices[0]?.expectedAroundMean ?? 0,
        }),
      ],
    };
  },

  charts: (numbers, reading) => (numbers.teams.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  tables: (numbers) => [
    tableOf(numbers),
    ...(numbers.teams.length === 0 ? [] : [shareTable(drawn(numbers, judge(numbers)))]),
  ],
  rows: (_numbers, { children, settings }) => rowsOf(children, settings),
};
