import { IntlMessageFormat } from "intl-messageformat";
import { problemKinds } from "../../src/read/problem.js";

type Words = ReadonlyMap<string, string>;
type Element = ReturnType<IntlMessageFormat["getAst"]>[number];

/** What a part of a message stands for, as in the enumeration of the message format's own parser. */
const part = { literal: 0, argument: 1, number: 2, date: 3, time: 4, select: 5, plural: 6, pound: 7 } as const;

/** A message as a pattern to read: values by their names in italics, counts in the plural, alternatives by a stroke. */
function pattern(elements: readonly Element[], counted = ""): string {
  return elements
    .map((element): string => {
      switch (element.type as number) {
        case part.literal:
          return "value" in element ? String(element.value) : "";
        case part.pound:
          return `*${counted}*`;
        case part.plural: {
          const { value, options } = element as Extract<Element, { options: object }> & { value: string };
          return pattern(options.other?.value ?? [], value);
        }
        case part.select: {
          const { options } = element as Extract<Element, { options: object }>;
          const texts = Object.values(options).map((option) => pattern(option.value, counted));
          const distinct = [...new Set(texts)].filter((text) => text !== "");
          return distinct.map((text, i) => (i === 0 ? text : text.replace(/^[:;,]?\s*/, ""))).join(" / ");
        }
        default:
          return `*${(element as { value: string }).value}*`;
      }
    })
    .join("");
}

function readable(words: Words, id: string): string {
  const text = words.get(id);
  if (text === undefined) throw new Error(`There are no words for '${id}'.`);
  const ast = new IntlMessageFormat(text, "en", undefined, { ignoreTag: true }).getAst();
  return pattern(ast).replaceAll("|", "\\|").replaceAll("\n", " ").trim();
}

const idsBelow = (words: Words, ...prefixes: readonly string[]): string[] =>
  [...words.keys()].filter((id) => prefixes.some((prefix) => id.startsWith(prefix))).sort();

/** Up to the end of the first sentence, and the rest: what happened, and what to do. */
function inTwo(text: string): readonly [string, string] {
  const [, first = text, rest = ""] = /^(.*?\.(?:\*|”|’)?)\s+(?=[A-Z‘“*-])(.*)$/s.exec(text) ?? [];
  return [first, rest];
}

function table(rows: readonly (readonly string[])[], header: readonly string[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [line(header), line(header.map(() => "---")), ...rows.map(line)].join("\n");
}

/** Messages of the call, the output and the PDF; their first sentence is the cause, the rest the remedy. */
const families: readonly { readonly title: string; readonly prefixes: readonly string[] }[] = [
  { title: "The call", prefixes: ["cli.usage.", "cli.cannot-read.", "cli.draft-exists", "cli.example-exists"] },
  {
    title: "Comparing surveys",
    prefixes: ["nothing-found", "refused", "settings-alone", "too-", "unknown-names"].map(
      (end) => `cli.compare.${end}`,
    ),
  },
  { title: "The output folder", prefixes: ["output.", "cli.left-behind", "cli.cannot-write."] },
  {
    title: "The PDF",
    prefixes: [
      "pdf.problem.",
      "pdf.named.option",
      "pdf.named.environment",
      "pdf.without-sandbox",
      "cli.uncovered-signs",
    ],
  },
  { title: "The program", prefixes: ["cli.our-fault", "cli.low-memory"] },
];

/** Parts that are put into messages of the PDF: causes, with no remedy of their own. */
const reasons = ["pdf.package.", "pdf.machine.", "pdf.named.missing", "pdf.named.not-"];

/** Messages that tell of no problem: questions, progress, where something was written. */
export const noProblem =
  /^cli\.(?:stage\.|ask\.|help\.|compare\.(?:computing|title)$|draft-(?:open|written)|more$|problems-listed$|other-rows$|compare\.unknown-name$)/;

/** Ids that the page shows. */
export function idsShown(words: Words): Set<string> {
  return new Set([
    ...problemKinds.flatMap((kind) => [`input.problem.${kind}`, `input.remedy.${kind}`]),
    ...idsBelow(words, "input.remedy."),
    ...families.flatMap(({ prefixes }) => idsBelow(words, ...prefixes)),
    ...idsBelow(words, ...reasons),
  ]);
}

/** The page of all messages that tell a user of a problem, in Markdown: from the program's closed lists and its words. */
export function messagePage(words: Words): string {
  const known: ReadonlySet<string> = new Set(problemKinds);
  const input = problemKinds.map((kind) => [
    `\`${kind}\``,
    readable(words, `input.problem.${kind}`),
    readable(words, `input.remedy.${kind}`),
  ]);
  const others = idsBelow(words, "input.remedy.").filter((id) => !known.has(id.slice("input.remedy.".length)));
  const sections = families.map(({ title, prefixes }) => {
    const rows = idsBelow(words, ...prefixes).map((id) => inTwo(readable(words, id)));
    return `## ${title}\n\n${table(rows, ["What happened", "What to do"])}`;
  });
  return `<!-- Written by tests/tools/write-messages.mjs from the words of the program. Change the words, not this page. -->

# Messages

Everything that Tareline says when something is wrong, with its cause and what to do. Words in italics stand for values:
a name, a number, a cell of your data.

Problems of the data are told all at once. The terminal groups them, counts them and shows the first five of each group;
the file \`<name>-problems.csv\` beside the output folders lists them all, one a line, with the row as a spreadsheet shows
it. No report is made while there are any, and an earlier report stays as it was. Both speak the language given with
\`--language\`, else that of the settings file. Exit code 2 means that the data, the settings or the call need a change; 70
is a fault of the program. A misspelt command or option is named with the one that was probably meant.

## The data and the settings

${table(input, ["Name", "What is wrong", "What to do"])}
${others.length === 0 ? "" : `\nIn some cases another remedy is named:\n\n${others.map((id) => `- ${readable(words, id)}`).join("\n")}\n`}
${sections.join("\n\n")}

Reasons that the messages on the PDF name:

${idsBelow(words, ...reasons)
  .map((id) => `- ${readable(words, id)}`)
  .join("\n")}
`;
}

/** The ids of all messages as a type, so that a message without words does not compile. */
export function messageIdType(ids: readonly string[]): string {
  const lines = [...ids].sort().map((id) => `  | ${JSON.stringify(id)}`);
  const head =
    "/** Every message that has words. Written by `node tests/tools/write-messages.mjs` from templates/locales/en.json. */";
  return `${head}\nexport type MessageId =\n${lines.join("\n")};\n`;
}
