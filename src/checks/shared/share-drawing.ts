import type { GroupId } from "../../results/group.js";
import { groupName } from "../../results/group-name.js";
import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Chart, Message, Reading, Table, TableCell, Unit } from "../../results/schema.js";
import type { GroupShare, ShareAgainst } from "./shares.js";
import { keptBackNotes, toldOf } from "./told.js";

/** How shares of a whole and its groups are drawn: the same numbers as a chart of intervals and as a table. */
export interface DrawnShares {
  readonly id: string;
  /** Messages `<words>.title`, `.alternative`, `.axis`, `.caption` and `.expected`. */
  readonly words: string;
  readonly unit: Unit;
  /** Turns a share into what is shown, for example boys per girl; the share itself by default. */
  readonly show?: (share: number) => number;
  /** The whole survey; null when only groups are shown. */
  readonly overall: (ShareAgainst & { readonly of: GroupId }) | null;
  readonly reading: Reading;
  readonly groups: readonly GroupShare[];
  /** Values for the alternative text. */
  readonly values: Message["values"];
  /** One expectation for all, drawn as a line; left out where each group has its own. */
  readonly line?: number;
  readonly band?: { readonly low: number; readonly high: number };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** The chart of a share by group with its interval; groups of 25 to 49 children are marked. */
export function shareChart(drawn: DrawnShares): Chart {
  const show = drawn.show ?? ((share: number) => share);
  const row = (
    label: Message | string,
    group: Message,
    tested: ShareAgainst & { readonly of: GroupId },
    reading: Reading,
  ) => ({
    group,
    label,
    value: finite(show(tested.share)),
    low: finite(show(tested.interval.low)),
    high: finite(show(tested.interval.high)),
    n: tested.n,
    of: tested.of,
    reading,
    marked: tested.n < 50,
  });
  const whole =
    drawn.overall === null
      ? []
      : [row(message("checks.who.everyone"), message("checks.who.by.everyone"), drawn.overall, drawn.reading)];
  return {
    id: drawn.id,
    kind: "intervals",
    title: message(`${drawn.words}.title`),
    alternative: message(`${drawn.words}.alternative`, drawn.values),
    x: { label: message(`${drawn.words}.axis`), unit: drawn.unit },
    ...(drawn.band === undefined ? {} : { band: { ...drawn.band, label: message(`${drawn.words}.band`) } }),
    lines: drawn.line === undefined ? [] : [{ at: drawn.line, label: message(`${drawn.words}.expected`) }],
    rows: [
      ...whole,
      ...toldOf(drawn.groups).map((group) =>
        row(groupName(group), message(`checks.who.by.${group.by}`), group, group.reading),
      ),
    ],
  };
}

/** The same as a table: group, children, value with interval, what was expected, adjusted probability and reading. */
export function shareTable(drawn: DrawnShares): Table {
  const show = drawn.show ?? ((share: number) => share);
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.who.column.${id}`),
    unit,
  });
  const cells = (tested: ShareAgainst): TableCell[] => [
    tested.n,
    finite(show(tested.share)),
    finite(show(tested.interval.low)),
    finite(show(tested.interval.high)),
    finite(show(tested.expected)),
  ];
  const whole =
    drawn.overall === null
      ? []
      : [
          [
            message("checks.who.by.everyone"),
            message("checks.who.everyone"),
            ...cells(drawn.overall),
            finite(drawn.overall.probability),
            drawn.reading,
          ],
        ];
  const groups = toldOf(drawn.groups);
  return {
    id: drawn.id,
    caption: message(`${drawn.words}.caption`),
    columns: [
      column("by", "text"),
      column("group", "text"),
      column("children", "count"),
      { ...column("value", drawn.unit), label: message(`${drawn.words}.axis`) },
      column("low", drawn.unit),
      column("high", drawn.unit),
      column("expected", drawn.unit),
      column("probability", "probability"),
      column("reading", "reading"),
    ],
    rows: [
      ...whole,
      ...groups.map((group) => [
        message(`checks.who.by.${group.by}`),
        groupName(group),
        ...cells(group),
        finite(group.adjustedProbability),
        group.reading,
      ]),
    ],
    of: [...(drawn.overall === null ? [] : [drawn.overall.of]), ...groups.map(({ of }) => of)],
    notes: [message("checks.who.table-note"), ...keptBackNotes(drawn.groups)],
  };
}

/** Labels of the groups that need explaining or are in doubt. */
export function unusualLabels(groups: readonly GroupShare[]): string[] {
  return groups.filter((group) => isConcern(group.reading)).map((group) => group.label);
}

/** Which finding to say: the reading's own, or 'groups' when the survey as a whole is as expected but a group is not. */
export function findingVariant(reading: Reading, overall: Reading): Reading | "groups" {
  if (reading === "expected" || reading === "unknown") return reading;
  return overall === "expected" || overall === "unknown" ? "groups" : overall;
}
