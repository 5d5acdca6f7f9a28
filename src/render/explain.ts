import { message } from "../results/message.js";
import type { MessageId } from "../results/message-ids.js";
import type { CheckResult, Message, Source } from "../results/schema.js";
import { Citations } from "./view/sources.js";
import type { Words } from "./words.js";

/** What the page about a check is made from: its result for the invented survey, what it needs, and all sources of those results. */
export interface ExplainedCheck {
  readonly found: CheckResult;
  readonly needs: readonly string[];
  readonly sources: readonly Source[];
}

const title = (id: string): Message => message(`checks.${id}.title`);

const listed = (texts: readonly string[]): string => texts.map((text) => `- ${text}\n`).join("");

/** Honest causes that the words know of, whether or not the example shows them; those of another measure's tool are left out. */
function causesOf(found: CheckResult, words: Words): string[] {
  const [measure = "", isDigits] = found.id.split("-");
  const shared = isDigits === "digits" ? words.idsOf("checks.digits.cause.") : [];
  const own = shared.filter((id) => !/\.tool-/.test(id) || id.endsWith(`.tool-${measure}`));
  const ids = [...words.idsOf(`checks.${found.id}.cause.`), ...own];
  const said = new Map(found.causes.map((cause) => [cause.id, cause]));
  return ids.map((id) => words.text(said.get(id) ?? message(id)));
}

function section(heading: MessageId, body: string, words: Words): string {
  return body === "" ? "" : `\n### ${words.text(message(heading))}\n\n${body}`;
}

/** Full references, each with what was taken from it and a word where it was not read in full. */
function references(cited: readonly string[], sources: readonly Source[], words: Words): string {
  const own = sources.filter(({ id }) => cited.includes(id));
  const citations = new Citations(own, words);
  const marks = new Map(citations.legend().map(({ mark, meaning }) => [mark, meaning]));
  return listed(
    citations.all().map(({ reference, note, status, mark }) => {
      const said = [reference, note, status, marks.get(mark)].filter((text) => text !== null && text !== undefined);
      return said.join(" ");
    }),
  );
}

/**
 * The page about one check, in its own words: what it finds, what it says of the invented survey, honest causes, how it is
 * computed with what chance gives and the limits, and its sources. Plain text that also reads as Markdown.
 */
export function checkPage({ found, needs, sources }: ExplainedCheck, words: Words): string {
  const say = (each: Message): string => words.text(each);
  const example = [found.finding, ...(found.reason === undefined ? [] : [found.reason]), ...found.meaning].map(say);
  const needed = needs.map((need) => message(`needs.${need}`));
  return [
    `## ${say(title(found.id))}\n\n`,
    `${say(message(`explain.about.${found.id}`))}\n`,
    needed.length === 0 ? "" : `\n${say(message("explain.needs", { needs: needed }))}\n`,
    section("explain.how", listed(found.method.map(say)), words),
    section("explain.example", listed([...new Set(example)]), words),
    section("explain.causes", listed(causesOf(found, words)), words),
    section("explain.sources", references(found.sources, sources, words), words),
  ].join("");
}

/** Every check with its name in the command line and its title, in the order of the report. */
export function checkList(ids: readonly string[], words: Words): string {
  const widest = Math.max(...ids.map((id) => id.length));
  const lines = ids.map((id) => `  ${id.padEnd(widest)}  ${words.text(title(id))}\n`);
  return `${words.text(message("explain.list"))}\n\n${lines.join("")}`;
}
