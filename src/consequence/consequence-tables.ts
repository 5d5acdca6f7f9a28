import { message } from "../results/message.js";
import type { ScenarioResult, Table, TableCell, TippingPoint } from "../results/schema.js";
import { className, estimateName } from "./names.js";

/** The tipping points worth a row in the report. */
export function tippingTable(tipping: readonly TippingPoint[]): Table {
  const text = (id: string) => ({ id, label: message(`consequence.table.${id}`), unit: "text" as const });
  const printed = tipping.filter(worthPrinting);
  const rows = printed.map((point): TableCell[] => [
    message(`consequence.instrument.${point.instrument}`),
    estimateName(point.estimate),
    point.team === null ? message("consequence.all-teams") : message("consequence.team", { team: point.team }),
    message(`consequence.direction.${point.direction}`),
    point.error === null
      ? message(`consequence.error.none.${point.unit}`, { searchedTo: point.searchedTo })
      : message(`consequence.error.${point.unit}`, { error: point.error }),
    point.criterion === "class"
      ? point.to === null
        ? null
        : message("consequence.to-class", { class: className(point.to) })
      : message("consequence.out-of-interval"),
    message(
      point.caught === null
        ? "consequence.caught.none"
        : point.caught
          ? "consequence.caught.yes"
          : "consequence.caught.no",
    ),
  ]);
  return {
    id: "tipping-points",
    of: printed.map(({ of }) => of),
    caption: message("consequence.table.tipping-points"),
    columns: [
      text("instrument"),
      text("estimate"),
      text("whose"),
      text("direction"),
      text("error"),
      text("effect"),
      text("caught"),
    ],
    rows,
    notes: [message("consequence.table.tipping-points.note")],
  };
}

/** Every scenario and estimate, a row each: too many for paper, kept for tables/scenarios.csv. */
export function scenarioTable(scenarios: readonly ScenarioResult[]): Table {
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
      { id: "moves", label: message("consequence.table.moves"), unit: "text" },
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
        one.class === null ? null : message(one.moves ? "consequence.moves.yes" : "consequence.moves.no"),
      ]),
    ),
  };
}

/** Tipping points worth a row in the report: all teams together, and single teams where a daily check shows nothing. */
function worthPrinting(point: TippingPoint): boolean {
  return point.team === null || point.caught === false;
}
