import { message } from "../results/message.js";
import type { Chart, Consequence, Message, ScenarioResult, Table, TableCell, TippingPoint } from "../results/schema.js";
import { bearsOn } from "./bears-on.js";
import type { Headline, World } from "./scenario.js";
import { assumedSpread } from "./spread.js";
import { instruments, prevalenceByError } from "./tipping-points.js";

type Verdict = Consequence["verdicts"][number];

const estimateName = (id: string): Message => message(`estimate.${id}`);
const className = (id: string): Message => message(`class.${id}`);

/** Movers named in a sentence; the picture and the table hold all. */
const mostNamed = 4;

/** A scenario that moves the class, with the class it moves it to. */
function moverMessage(verdict: Verdict, id: string, scenarios: readonly ScenarioResult[]): Message {
  const scenario = scenarios.find((one) => one.id === id);
  const outcome = scenario?.outcomes.find((one) => one.estimate === verdict.estimate);
  const label = scenario?.label ?? message(id);
  return outcome?.class == null
    ? label
    : message("consequence.mover", { scenario: label, class: className(outcome.class) });
}

function verdictMessage(verdict: Verdict, scenarios: readonly ScenarioResult[]): Message {
  const values = {
    estimate: estimateName(verdict.estimate),
    class: className(verdict.class),
    scheme: message(`scheme.${verdict.scheme}`),
    stands: verdict.stands,
    total: verdict.total,
  };
  const moved = verdict.movers.length;
  if (moved === 0) return message("consequence.verdict.stands", values);
  const movers = verdict.movers.slice(0, mostNamed).map((id) => moverMessage(verdict, id, scenarios));
  return message("consequence.verdict.moved", { ...values, moved, movers, more: moved - movers.length });
}

function bandsOf(headline: Headline): { from: number; to: number; label: Message }[] {
  const classes = headline.estimate.scheme?.classes ?? [];
  return classes.map(({ id, from }, i) => ({ from, to: classes[i + 1]?.from ?? 1, label: className(id) }));
}

/** The scenarios that change anything, by group, largest shift first within a group. */
function rowsFor(world: World, headline: Headline, scenarios: readonly ScenarioResult[]) {
  const groups = [...new Set(scenarios.map((scenario) => scenario.group))];
  return groups.flatMap((group) =>
    scenarios
      .filter((scenario) => scenario.group === group)
      .flatMap((scenario) =>
        scenario.outcomes
          .filter((one) => one.estimate === headline.estimate.id && bearsOn(world, one))
          .map(({ value, low, high, moves, shift }) => ({
            group: message(`scenario-group.${group}`),
            label: scenario.label,
            kind: scenario.kind,
            value,
            low,
            high,
            moves,
            shift,
          })),
      )
      .sort((a, b) => Math.abs(b.shift) - Math.abs(a.shift))
      .map(({ shift: _, ...row }) => row),
  );
}

/** Days are many and mostly alike: in the picture only those that move the class, and the two largest shifts. */
function worthDrawing(headline: Headline, scenarios: readonly ScenarioResult[]): readonly ScenarioResult[] {
  const id = headline.estimate.id;
  const shiftOf = (scenario: ScenarioResult): number =>
    Math.abs(scenario.outcomes.find((one) => one.estimate === id)?.shift ?? 0);
  const isDay = (scenario: ScenarioResult): boolean => scenario.id.startsWith("leave-out-day/");
  const movesIt = (scenario: ScenarioResult): boolean =>
    scenario.outcomes.some((one) => one.estimate === id && one.moves);
  const largest = scenarios
    .filter(isDay)
    .sort((a, b) => shiftOf(b) - shiftOf(a))
    .slice(0, 2);
  return scenarios.filter((scenario) => !isDay(scenario) || movesIt(scenario) || largest.includes(scenario));
}

function scenarioChart(
  world: World,
  headline: Headline,
  verdict: Verdict,
  scenarios: readonly ScenarioResult[],
): Chart {
  return {
    kind: "scenarios",
    id: `scenarios-${headline.estimate.id}`,
    title: message("consequence.chart.scenarios.title", { estimate: estimateName(headline.estimate.id) }),
    alternative: verdictMessage(verdict, scenarios),
    estimate: headline.estimate.id,
    published: headline.published.value,
    bands: bandsOf(headline),
    rows: rowsFor(world, headline, worthDrawing(headline, scenarios)),
  };
}

/** Prevalence at 25 errors from reading low to reading high: 300 g and 12 mm, thrice and four times what a daily check lets pass. */
function curve(world: World, headline: Headline, instrument: "scale" | "board"): Chart {
  const facts = instruments[instrument];
  const most = instrument === "scale" ? 300 : 12;
  const prevalence = prevalenceByError(world, headline, instrument, null);
  const points = Array.from({ length: 25 }, (_, k) => {
    const signed = ((k - 12) / 12) * most;
    return { x: signed, y: prevalence(Math.round(signed * facts.stepsPerUnit)) };
  });
  const values = points.map((point) => point.y);
  const limits = (headline.estimate.scheme?.classes ?? []).filter(
    ({ from }) => from > 0 && from >= Math.min(...values) && from <= Math.max(...values),
  );
  return {
    kind: "lines",
    id: `error-${instrument}-${headline.estimate.id}`,
    title: message(`consequence.chart.error.${instrument}`, { estimate: estimateName(headline.estimate.id) }),
    alternative: message(`consequence.chart.error.${instrument}.alternative`, {
      estimate: estimateName(headline.estimate.id),
      low: points[0]?.y ?? Number.NaN,
      high: points.at(-1)?.y ?? Number.NaN,
      error: most,
    }),
    x: { label: message(`consequence.axis.${instrument}`), unit: instrument === "scale" ? "count" : "millimetre" },
    y: { label: estimateName(headline.estimate.id), unit: "share" },
    verticals: [
      { at: -facts.tolerance, label: message("consequence.line.daily-check") },
      { at: facts.tolerance, label: message("consequence.line.daily-check") },
    ],
    horizontals: limits.map(({ id, from }) => ({ at: from, label: className(id) })),
    panels: [{ label: estimateName(headline.estimate.id), points: [], fitted: points }],
  };
}

function tippingTable(points: readonly TippingPoint[]): Table {
  const text = (id: string) => ({ id, label: message(`consequence.table.${id}`), unit: "text" as const });
  const rows = points.map((point): TableCell[] => [
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

function scenarioTable(scenarios: readonly ScenarioResult[]): Table {
  return {
    id: "scenarios",
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

/** Tipping points worth a row in the report: all teams together, and for single teams those within 300 g or 10 mm. */
function worthPrinting(point: TippingPoint): boolean {
  if (point.team === null) return true;
  return point.error !== null && point.error <= (point.unit === "gram" ? 300 : 10);
}

function impossible(scenarios: readonly ScenarioResult[]): Message[] {
  return scenarios.flatMap(({ label, reason }) =>
    reason === undefined ? [] : [message("consequence.not-possible", { scenario: label, reason })],
  );
}

/**
 * What a daily check of the instruments would not have shown: the errors of all teams that change a class and yet are
 * within what such a check lets pass. Where there is none, that is said instead.
 */
function unseenErrors(tipping: readonly TippingPoint[]): Message[] {
  const all = tipping.filter((point) => point.team === null && point.criterion === "class");
  if (all.length === 0) return [];
  const unseen = all.filter((point) => point.caught === false && point.to !== null);
  if (unseen.length === 0) return [message("consequence.tipping.none-unseen")];
  return unseen.map((point) =>
    message(`consequence.tipping.unseen.${point.direction}`, {
      estimate: estimateName(point.estimate),
      instrument: message(`consequence.instruments.${point.instrument}`),
      error: message(`consequence.error.${point.unit}`, { error: point.error ?? 0 }),
      tolerance: message(`consequence.error.${point.unit}`, { error: point.tolerance }),
      value: point.valueAfter ?? 0,
      class: className(point.to ?? ""),
    }),
  );
}

/** How to read the bounds and the contested lines, where there are any. */
function explanations(scenarios: readonly ScenarioResult[]): Message[] {
  const has = (kind: ScenarioResult["kind"]): boolean =>
    scenarios.some((scenario) => scenario.kind === kind && scenario.outcomes.length > 0);
  return [
    ...(has("bound") ? [message("consequence.meaning.bounds")] : []),
    ...(has("sensitivity") ? [message("consequence.meaning.sensitivity", { spread: assumedSpread })] : []),
  ];
}

/** The scenario pictures of the classed estimates, then the prevalence as a function of an error of scale and board. */
function chartsOf(world: World, scenarios: readonly ScenarioResult[], verdicts: readonly Verdict[]): Chart[] {
  const classed = world.headlines.filter(({ estimate }) => estimate.scheme !== undefined);
  const pictures = classed.flatMap((headline) => {
    const verdict = verdicts.find((one) => one.estimate === headline.estimate.id);
    return verdict === undefined || verdict.total === 0 ? [] : [scenarioChart(world, headline, verdict, scenarios)];
  });
  const byId = (id: string): Headline | undefined => classed.find(({ estimate }) => estimate.id === id);
  const wasting = world.children.weight === null ? undefined : byId("wasting");
  const stunting = world.children.height === null ? undefined : byId("stunting");
  return [
    ...pictures,
    ...(wasting === undefined ? [] : [curve(world, wasting, "scale")]),
    ...(stunting === undefined ? [] : [curve(world, stunting, "board")]),
  ];
}

/** Turns scenarios, tipping points and verdicts into what section 7 of the report draws. */
export function present(
  world: World,
  scenarios: readonly ScenarioResult[],
  tipping: readonly TippingPoint[],
  verdicts: readonly Verdict[],
): Consequence {
  const [first, ...others] = verdicts.filter((verdict) => verdict.total > 0);
  return {
    scenarios: [...scenarios],
    tippingPoints: [...tipping],
    verdicts: [...verdicts],
    heading: first === undefined ? message("consequence.heading.no-class") : verdictMessage(first, scenarios),
    paragraphs: [
      ...others.map((one) => verdictMessage(one, scenarios)),
      ...unseenErrors(tipping),
      ...explanations(scenarios),
      ...impossible(scenarios),
    ],
    method: ["scenarios", "imputation", "missing", "spread", "tipping-points", "counting"].map((part) =>
      message(`consequence.method.${part}`),
    ),
    charts: chartsOf(world, scenarios, verdicts),
    tables: [tippingTable(tipping.filter(worthPrinting)), scenarioTable(scenarios)],
    sources: [
      "rubin-1987",
      "barnard-rubin-1999",
      "dempster-1977",
      "cook-stefanski-1994",
      "crowe-2014",
      "grellety-golden-2016",
      "daily-instrument-check",
    ],
  };
}
