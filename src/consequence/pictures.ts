import type { GroupId } from "../results/group.js";
import { message } from "../results/message.js";
import type { Answer, Chart, Consequence, Message } from "../results/schema.js";
import { className, estimateName } from "./names.js";
import type { Headline, World } from "./scenario.js";
import { instruments, prevalenceByError } from "./tipping-points.js";
import { wholeOf } from "./whole.js";

const share = (label: Message) => ({ label, unit: "share" as const });

/** The published interval, that with the findings put right, each repair and each choice alone: one estimate on one axis. */
function partsChart(answer: Answer, { repairs, choices }: Pick<Consequence, "repairs" | "choices">): Chart {
  const row = (group: string, label: Message, of: GroupId, [value, low, high]: readonly (number | null)[]) => ({
    ...{ group: message(`claims.part.${group}`), label, of, n: 0 },
    ...{ value: value ?? null, low: low ?? null, high: high ?? null },
  });
  const { estimate, value, low, high, draws, repaired } = answer;
  const own = choices.filter((one) => one.estimate === estimate && Math.abs(one.shift) > 1e-12);
  return {
    kind: "intervals",
    id: `parts-${estimate}`,
    title: message("claims.chart.title", { estimate: estimateName(estimate) }),
    alternative: message("claims.chart.alternative", {
      estimate: estimateName(estimate),
      value,
      low: low ?? value,
      high: high ?? value,
      repairedLow: repaired?.low ?? low ?? value,
      repairedHigh: repaired?.high ?? high ?? value,
    }),
    x: share(message("claims.chart.axis")),
    counted: null,
    lines: linesOf(answer),
    rows: [
      row("chance", message("claims.row.published"), answer.of, [value, low, high]),
      ...(draws === null || repaired === null
        ? []
        : [row("repairs", message("claims.row.repaired"), draws.of, [null, repaired.low, repaired.high])]),
      ...repairs.flatMap(({ label, outcomes }) =>
        outcomes
          .filter((one) => one.estimate === estimate)
          .map(({ of, shift }) => row("alone", label, of, [value + shift])),
      ),
      ...own.map((one) => row("choices", one.label, one.of, [one.value, one.low, one.high])),
    ],
  };
}

/** Published limits that lie within what is drawn. */
function linesOf({ limits, low, high, repaired }: Answer): { at: number; label: Message }[] {
  const from = Math.min(low ?? 1, repaired?.low ?? 1);
  const to = Math.max(high ?? 0, repaired?.high ?? 0);
  const room = (to - from) / 2;
  return limits
    .filter(({ from: at }) => at > 0 && at >= from - room && at <= to + room)
    .map(({ class: name, from: at }) => ({ at, label: className(name) }));
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

/** The four parts of every classed estimate, then the prevalence as a function of an error of scale and board. */
export function picturesOf(world: World, parts: Pick<Consequence, "answers" | "repairs" | "choices">): Chart[] {
  const told = parts.answers.filter(({ limits, low }) => limits.length > 0 && low !== null);
  const byId = (id: string): Headline | undefined =>
    told.some(({ estimate }) => estimate === id)
      ? world.headlines.find(({ estimate }) => estimate.id === id)
      : undefined;
  const wasting = world.children.weight === null ? undefined : byId("wasting");
  const stunting = world.children.height === null ? undefined : byId("stunting");
  return [
    ...told.map((answer) => partsChart(answer, parts)),
    ...(wasting === undefined ? [] : [curve(world, wasting, "scale")]),
    ...(stunting === undefined ? [] : [curve(world, stunting, "board")]),
  ];
}
