import { message } from "../results/message.js";
import type { Consequence, Message, ScenarioResult, Table, TableCell, TippingPoint, Unit } from "../results/schema.js";
import { inHundred } from "./claims/in-hundred.js";
import { className, estimateName } from "./names.js";

type Columns = Readonly<Record<string, Unit | "text">>;

/** Columns by their id and unit, each named by the message `claims.table.<id>`. */
const columnsOf = (columns: Columns): Table["columns"] =>
  Object.entries(columns).map(([id, unit]) => ({ id, label: message(`claims.table.${id}`), unit }));

const limitOf = (limit: number): Message => message("claims.limit", { limit });

/** Every limit near an estimate: both chances, what can be said, what matters most. */
function claimTable({ claims, answers, repairs }: Consequence): Table {
  const ofEstimate = new Map(answers.map(({ estimate, of }) => [estimate, of]));
  const told = claims.filter(({ estimate }) => ofEstimate.has(estimate));
  const labels = new Map(repairs.map(({ id, label }) => [id, label]));
  return {
    id: "claims",
    of: told.flatMap(({ estimate }) => ofEstimate.get(estimate) ?? []),
    caption: message("claims.table.claims"),
    columns: columnsOf({
      estimate: "text",
      limit: "text",
      chance: "text",
      repaired: "text",
      state: "text",
      most: "text",
    }),
    rows: told.map((claim): TableCell[] => [
      estimateName(claim.estimate),
      limitOf(claim.limit),
      inHundred(claim.byChance),
      inHundred(claim.repaired),
      message(`claims.state.${claim.state}`, { side: claim.side }),
      (claim.repair === null ? undefined : labels.get(claim.repair)) ?? null,
    ]),
    notes: [message("claims.table.claims.note")],
  };
}

/** Each repair alone. */
function repairTable({ repairs }: Consequence): Table {
  const rows = repairs.flatMap(({ label, found, outcomes }) => {
    const repair = found === undefined ? label : message("claims.table.repair-found", { repair: label, found });
    return outcomes.map(({ estimate, of, shift, shiftInErrors }) => ({
      of,
      cells: [repair, estimateName(estimate), shift, shiftInErrors] satisfies TableCell[],
    }));
  });
  return {
    id: "repairs",
    of: rows.map(({ of }) => of),
    caption: message("claims.table.repairs"),
    columns: columnsOf({ repair: "text", estimate: "text", shift: "share-difference", errors: "ratio" }),
    rows: rows.map(({ cells }) => cells),
    notes: [message("claims.table.repairs.note")],
  };
}

/** The choices of the analysis and the range that they span. */
function choiceTable({ choices }: Consequence): Table {
  return {
    id: "choices",
    of: choices.map(({ of }) => of),
    caption: message("claims.table.choices"),
    columns: columnsOf({
      estimate: "text",
      choice: "text",
      value: "share",
      low: "share",
      high: "share",
      shift: "share-difference",
    }),
    rows: choices.map(({ estimate, label, value, low, high, shift }): TableCell[] => [
      estimateName(estimate),
      label,
      value,
      low,
      high,
      shift,
    ]),
  };
}

/** What would settle what is left open. */
function settlingTable({ settling, answers }: Consequence): Table {
  const ofEstimate = new Map(answers.map(({ estimate, of }) => [estimate, of]));
  const rows = settling.flatMap(({ estimate, limit, acts }) => {
    const of = ofEstimate.get(estimate);
    if (of === undefined) return [];
    return acts.map(({ label, effort, before, after }) => ({
      of,
      cells: [estimateName(estimate), limitOf(limit), label, effort, inHundred(before), inHundred(after)],
    }));
  });
  return {
    id: "settling",
    of: rows.map(({ of }) => of),
    caption: message("claims.table.settling"),
    columns: columnsOf({ estimate: "text", limit: "text", act: "text", effort: "text", before: "text", after: "text" }),
    rows: rows.map(({ cells }) => cells),
    notes: [message("claims.table.settling.note")],
  };
}

/** What no data can show: errors shared by all that would undo what can be said. */
function tippingTable(tipping: readonly TippingPoint[]): Table {
  return {
    id: "tipping-points",
    of: tipping.map(({ of }) => of),
    caption: message("consequence.table.tipping-points"),
    columns: [
      ...columnsOf({ claim: "text" }),
      ...["instrument", "direction", "error", "caught"].map((id) => ({
        ...{ id, label: message(`consequence.table.${id}`), unit: "text" as const },
      })),
    ],
    rows: tipping.map((point): TableCell[] => [
      message(`claims.claim.${point.side}`, { estimate: estimateName(point.estimate), limit: point.limit }),
      message(`consequence.instrument.${point.instrument}`),
      point.error === null ? null : message(`consequence.direction.${point.direction}`),
      point.error === null
        ? message(`consequence.error.none.${point.unit}`, { searchedTo: point.searchedTo })
        : message(`consequence.error.${point.unit}`, { error: point.error }),
      message(`consequence.caught.${point.caught === null ? "none" : point.caught ? "yes" : "no"}`),
    ]),
    notes: [message("consequence.table.tipping-points.note")],
  };
}

/** Parts of the survey without which an estimate moves further than by chance. */
function influenceTable({ influence }: Consequence): Table {
  return {
    id: "influence",
    of: influence.map(({ of }) => of),
    caption: message("claims.table.influence"),
    columns: columnsOf({
      estimate: "text",
      part: "text",
      shift: "share-difference",
      u: "statistic",
      "by-chance": "statistic",
    }),
    rows: influence.map(({ estimate, label, shift, u, limit }): TableCell[] => [
      estimateName(estimate),
      label,
      shift,
      u,
      limit,
    ]),
  };
}

/** Every scenario and estimate, a row each: too many for paper, kept for tables/scenarios.csv. */
function scenarioTable(scenarios: readonly ScenarioResult[]): Table {
  return {
    id: "scenarios",
    of: scenarios.flatMap(({ outcomes }) => outcomes.map(({ of }) => of)),
    caption: message("consequence.table.scenarios"),
    columns: [
      { id: "group", label: message("consequence.table.group"), unit: "text" },
      { id: "scenario", label: message("consequence.table.scenario"), unit: "text" },
      { id: "kind", label: message("consequence.table.kind"), unit: "text" },
      { id: "estimate", label: message("consequence.table.estimate"), unit: "text" },
      { id: "value", label: message("consequence.table.value"), unit: "share" },
      { id: "low", label: message("consequence.table.low"), unit: "share" },
      { id: "high", label: message("consequence.table.high"), unit: "share" },
      { id: "shift", label: message("consequence.table.shift"), unit: "share" },
      { id: "class", label: message("consequence.table.class"), unit: "text" },
    ],
    rows: scenarios.flatMap((scenario) =>
      scenario.outcomes.map((one): TableCell[] => [
        message(`scenario-group.${scenario.group}`),
        scenario.label,
        message(`scenario-kind.${scenario.kind}`),
        estimateName(one.estimate),
        one.value,
        one.low,
        one.high,
        one.shift,
        one.class === null ? null : className(one.class),
      ]),
    ),
  };
}

/** The tables of the section, those without a row left out. */
export function tablesOf(consequence: Consequence): Table[] {
  return [
    claimTable(consequence),
    repairTable(consequence),
    choiceTable(consequence),
    settlingTable(consequence),
    tippingTable(consequence.tippingPoints),
    influenceTable(consequence),
    scenarioTable(consequence.scenarios),
  ].filter(({ rows }) => rows.length > 0);
}
