/** Rows that repeat another child's sex, age and measures exactly: a form entered twice counts a child twice. */

import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Reading, Table } from "../../results/schema.js";
import { poissonQuantile } from "../../stats/poisson.js";
import type { Check } from "../check.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { mostSerious, readDeparture, readGroupsTogether, type SizeLimits } from "../shared/reading.js";
import { known } from "../shared/shares.js";
import { keptBackNotes, toldOf } from "../shared/told.js";
import { expectedEqualPairs, rowCodes } from "./equal-pairs.js";
import { rowsOf } from "./listing.js";
import { type DuplicateRowsNumbers, type Pairs, pairsAgainst, repeatsOf, teamLimits, teamPairs } from "./numbers.js";
import { pairsOf, refine } from "./repeats.js";

/**
 * Own judgement: any repeat beyond chance is worth opening the forms; two rows in a hundred counted twice begin to
 * weigh on estimates and on their intervals.
 */
const sizeLimits: SizeLimits = { explain: Number.MIN_VALUE, doubt: 0.02 };

function overallReading(numbers: DuplicateRowsNumbers): Reading {
  const size = numbers.repeats / numbers.compared;
  return mostSerious(numbers.adjusted.map((probability) => readDeparture(probability, size, sizeLimits)));
}

function judge(numbers: DuplicateRowsNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.compared)]);
}

function tableOf(numbers: DuplicateRowsNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.duplicate-rows.column.${id}`),
    unit,
  });
  const row = (id: string, { observed, expected, probability }: Pairs) => [
    message(`checks.duplicate-rows.where.${id}`),
    numbers.compared,
    observed,
    expected,
    probability,
    null,
  ];
  const teams = toldOf(numbers.teams);
  const survey = numbers.withinCluster === null ? [numbers.of] : [numbers.of, numbers.of];
  return {
    id: "duplicate-rows",
    of: [...survey, ...teams.map(({ of }) => of)],
    caption: message("checks.duplicate-rows.table.caption"),
    columns: [
      column("where", "text"),
      column("children", "count"),
      column("pairs", "count"),
      column("expected", "statistic"),
      column("probability", "probability"),
      column("reading", "reading"),
    ],
    rows: [
      row("anywhere", numbers.anywhere),
      ...(numbers.withinCluster === null ? [] : [row("within-cluster", numbers.withinCluster)]),
      ...teams.map((team) => [
        team.label,
        team.n,
        team.observed,
        team.expected,
        Number.isNaN(team.adjustedProbability) ? null : team.adjustedProbability,
        team.reading,
      ]),
    ],
    notes: [message("checks.duplicate-rows.table.note"), ...keptBackNotes(numbers.teams)],
  };
}

export const duplicateRows: Check<DuplicateRowsNumbers> = {
  id: "duplicate-rows",
  section: "who",
  needs: ["sex", "age", "weight", "height"],
  sources: ["repeats-by-chance", "simmons-2016", "holm-1979", "benjamini-hochberg-1995"],

  compute({ children, book }) {
    const codes = rowCodes(children);
    const compared = codes.start.reduce((sum, code) => sum + (code >= 0 ? 1 : 0), 0);
    if (compared < 2) return { cannotTell: message("checks.who.too-few", { n: compared, least: 2 }) };
    const expectedInAll = expectedEqualPairs(children, codes);
    const everywhere = pairsOf(codes.sexAndMonth);
    const anywhere = pairsAgainst(codes.all, everywhere, everywhere, expectedInAll);
    const clusters = children.cluster?.codes ?? null;
    const withinCluster =
      clusters === null
        ? null
        : pairsAgainst(
            refine(codes.all, clusters),
            pairsOf(refine(codes.sexAndMonth, clusters)),
            everywhere,
            expectedInAll,
          );
    const subject = book.subject(
      "repeats",
      Uint8Array.from(codes.start, (code) => (code >= 0 ? 1 : 0)),
    );
    const teams = teamPairs(children, codes, everywhere, expectedInAll, subject);
    const adjusted = adjustTogether(
      [anywhere.probability, withinCluster?.probability ?? Number.NaN],
      [teams.map((team) => team.probability)],
    );
    return {
      of: subject.whole,
      compared,
      withArm: children.arm !== null,
      ...repeatsOf(codes.all),
      anywhere,
      withinCluster,
      adjusted: adjusted.overall,
      teams: teams.map((team, i) => {
        const adjustedProbability = adjusted.families[0]?.[i] ?? Number.NaN;
        const size = team.n === 0 ? Number.NaN : team.repeats / team.n;
        return { ...team, adjustedProbability, reading: readDeparture(adjustedProbability, size, teamLimits) };
      }),
    };
  },

  judge,

  quantities(numbers) {
    const { of } = numbers;
    const quantity = (id: string, own: Pairs) => ({
      id,
      of,
      unit: "count" as const,
      value: own.observed,
      n: numbers.compared,
      chance: { expected: own.expected, low: 0, high: poissonQuantile(0.95, own.expected) },
      probability: own.probability,
    });
    return [
      { id: "repeated-rows", of, unit: "count", value: numbers.repeats, n: numbers.compared },
      { id: "repeated-rows-share", of, unit: "share", value: numbers.repeats / numbers.compared, n: numbers.compared },
      quantity("equal-pairs", numbers.anywhere),
      ...(numbers.withinCluster === null ? [] : [quantity("equal-pairs-within-clusters", numbers.withinCluster)]),
    ];
  },

  groups: (numbers) =>
    toldOf(numbers.teams).map((team) => ({
      by: "team",
      label: team.label,
      n: team.n,
      of: team.of,
      reading: team.reading,
      quantities: [
        {
          id: "equal-pairs",
          of: team.of,
          unit: "count",
          value: team.observed,
          n: team.n,
          chance: { expected: team.expected },
          probability: team.probability,
        },
      ],
      ...known("adjustedProbability", team.adjustedProbability),
    })),

  say(numbers, reading) {
    const { anywhere, withinCluster } = numbers;
    const unusual = reading !== "expected";
    const teams = numbers.teams.filter((team) => isConcern(team.reading)).map((team) => team.label);
    const values = {
      repeats: numbers.repeats,
      share: numbers.repeats / numbers.compared,
      involved: numbers.involved,
      n: numbers.compared,
      pairs: anywhere.observed,
      expected: anywhere.expected,
      within: withinCluster?.observed ?? 0,
      teams,
      count: teams.length,
    };
    const variant = unusual ? reading : numbers.repeats === 0 ? "none" : "expected";
    return {
      finding: message(`checks.duplicate-rows.finding.${variant}`, values),
      meaning: [
        message("checks.duplicate-rows.meaning.numbers", values),
        ...(withinCluster === null || anywhere.observed === 0
          ? []
          : [message("checks.duplicate-rows.meaning.within", values)]),
        ...(teams.length === 0 ? [] : [message("checks.duplicate-rows.meaning.teams", values)]),
        message(`checks.duplicate-rows.meaning.${unusual ? "unusual" : "expected"}`, values),
      ],
      causes: unusual
        ? ["sent-twice", "copied", "twins"].map((cause) => message(`checks.duplicate-rows.cause.${cause}`))
        : [],
      actions: numbers.repeats > 0 ? [message("checks.duplicate-rows.action.rows", values)] : [],
      method: [
        message(`checks.duplicate-rows.method.${numbers.withArm ? "compared-arm" : "compared"}`),
        message("checks.duplicate-rows.method.chance"),
        message("checks.duplicate-rows.method.size", { doubt: sizeLimits.doubt }),
      ],
    };
  },

  tables: (numbers) => [tableOf(numbers)],
  rows: (_numbers, { children }) => rowsOf(children),
};
