import { message } from "../results/message.js";
import type { Chart, Message, ScenarioResult } from "../results/schema.js";
import { bearsOn } from "./bears-on.js";
import { className, estimateName } from "./names.js";
import type { Headline, World } from "./scenario.js";
import { instruments, prevalenceByError, wholeOf } from "./tipping-points.js";
import { type Verdict, verdictMessage } from "./verdict-sentence.js";

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
          .map(({ value, low, high, moves, shift, of }) => ({
            group: message(`scenario-group.${group}`),
            label: scenario.label,
            kind: scenario.kind,
            value,
            low,
            high,
            of,
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
    panels: [{ label: estimateName(headline.estimate.id), of: wholeOf(world, headline), points: [], fitted: points }],
  };
}

/** The scenario pictures of the classed estimates, then the prevalence as a function of an error of scale and board. */
export function picturesOf(world: World, scenarios: readonly ScenarioResult[], verdicts: readonly Verdict[]): Chart[] {
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
