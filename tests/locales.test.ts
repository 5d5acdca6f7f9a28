import { IntlMessageFormat } from "intl-messageformat";
import { describe, expect, it } from "vitest";
import { templateNames, templateText } from "../src/render/templates.js";
import { sources } from "../src/results/sources.js";

type Table = Readonly<Record<string, string>>;
const read = (language: string): Table => JSON.parse(templateText(`locales/${language}.json`)) as Table;
const english = read("en");
const languages = templateNames("locales", ".json")
  .map((name) => name.replace(".json", ""))
  .filter((language) => language !== "en");

interface Node {
  readonly type: number;
  readonly value?: string;
  readonly style?:
    | { readonly tokens?: readonly { readonly stem: string; readonly options: readonly string[] }[] }
    | string
    | null;
  readonly options?: Readonly<Record<string, { readonly value: readonly Node[] }>>;
}
const kinds = ["literal", "argument", "number", "date", "time", "select", "plural"] as const;

/** What a message asks for: how each placeholder is used, and the keys of its choices. */
interface Asked {
  /** 'share: number percent .0' and the like, in alphabetical order. */
  readonly uses: Set<string>;
  readonly names: Set<string>;
  readonly numeric: Set<string>;
  readonly plurals: { readonly name: string; readonly keys: readonly string[] }[];
}

function asked(pattern: string, language: string): Asked {
  const found: Asked = { uses: new Set(), names: new Set(), numeric: new Set(), plurals: [] };
  const walk = (nodes: readonly Node[]): void => {
    for (const { type, value = "", style, options = {} } of nodes) {
      const kind = kinds[type];
      if (kind === undefined || kind === "literal") continue;
      found.names.add(value);
      if (kind === "number" || kind === "plural") found.numeric.add(value);
      const tokens = typeof style === "object" ? (style?.tokens ?? []) : [];
      const skeleton = tokens.map(({ stem, options: more }) => [stem, ...more].join("/")).join(" ");
      // A language may print a number that English only chooses by, or choose by one that English only prints.
      if (kind === "argument" || (kind === "number" && skeleton !== ""))
        found.uses.add(`${value}: ${kind} ${skeleton}`.trim());
      if (kind === "select") found.uses.add(`${value}: select ${Object.keys(options).sort().join(" ")}`);
      if (kind === "plural") found.plurals.push({ name: value, keys: Object.keys(options) });
      for (const option of Object.values(options)) walk(option.value);
    }
  };
  walk(new IntlMessageFormat(pattern, language, undefined, { ignoreTag: true }).getAst() as unknown as Node[]);
  return found;
}

/** What is spelled alike in two languages; everything else that is the same as in English was left untranslated. */
const saidAlike: ReadonlySet<string> = new Set([
  "z-score",
  "z-scores",
  "zero",
  "no",
  "Scores",
  "Sources",
  "Instrument",
  "Population",
  "Figure",
  "Figure {number}. {title}",
  "Anderson-Darling",
  "Parquet",
  "options",
  "code",
  "codes",
  "SHA-256",
  "{ends, select, closed { } other {: }}",
]);

describe.each(languages)("the words of %s", (language) => {
  const own = read(language);
  const ids = Object.keys(english).filter((id) => Object.hasOwn(own, id));
  const both = ids.map((id) => ({ id, here: asked(own[id] ?? "", language), there: asked(english[id] ?? "", "en") }));
  const faulty = (isFaulty: (each: (typeof both)[number]) => boolean): string[] =>
    both.filter(isFaulty).map(({ id }) => id);
  const texts = Object.entries(own);

  it("are all there, and no others", () => {
    expect(Object.keys(english).filter((id) => !Object.hasOwn(own, id))).toEqual([]);
    expect(Object.keys(own).filter((id) => !Object.hasOwn(english, id))).toEqual([]);
  });

  it("have the placeholders of the English ones, written in the same form, and the same choices", () => {
    const list = (items: ReadonlySet<string>): string => [...items].sort().join("; ");
    expect(faulty(({ here, there }) => list(here.names) !== list(there.names))).toEqual([]);
    expect(faulty(({ here, there }) => list(here.uses) !== list(there.uses))).toEqual([]);
    const onlyHere = both.flatMap(({ id, here, there }) =>
      [...here.numeric].filter((name) => !there.numeric.has(name)).map((name) => `${id}: ${name}`),
    );
    expect(onlyHere).toEqual([]);
  });

  it("give every form of a counted noun that the language has, and no other", () => {
    const { pluralCategories } = new Intl.PluralRules(language).resolvedOptions();
    const many = language === "ar" ? pluralCategories : pluralCategories.filter((category) => category === "other");
    const wrong = both.flatMap(({ id, here, there }) =>
      here.plurals.flatMap(({ name, keys }) => {
        const open = keys.filter((key) => !key.startsWith("="));
        const needed = open.length > 1 ? many : ["other"];
        const lacking = needed.filter((key) => !open.includes(key) && !(key === "zero" && keys.includes("=0")));
        const strange = open.filter((key) => !(pluralCategories as readonly string[]).includes(key));
        const exact = there.plurals.filter((each) => each.name === name).flatMap((each) => each.keys);
        const lost = exact.filter(
          (key) => key.startsWith("=") && !here.plurals.some((each) => each.name === name && each.keys.includes(key)),
        );
        return [...lacking, ...strange, ...lost].map((key) => `${id}: ${name} ${key}`);
      }),
    );
    expect(wrong).toEqual([]);
  });

  it("hold no straight apostrophe, no doubled space and no second sign for per cent", () => {
    expect(texts.filter(([, text]) => text.includes("'")).map(([id]) => id)).toEqual([]);
    expect(texts.filter(([, text]) => / {2}/.test(text)).map(([id]) => id)).toEqual([]);
    expect(texts.filter(([, text]) => /\bpercent[^}]*\}\s*%/.test(text)).map(([id]) => id)).toEqual([]);
    const edges = texts.filter(([id, text]) => text.trim() !== text && english[id]?.trim() === english[id]);
    expect(edges.map(([id]) => id)).toEqual([]);
  });

  it("say nothing in English but what is said alike", () => {
    const hasWords = (text: string): boolean => /\p{L}{2}/u.test(text.replace(/\{[^{}]*\}/g, ""));
    const alike = ids.map((id) => own[id] ?? "").filter((text, i) => text === english[ids[i] ?? ""] && hasWords(text));
    expect(alike.filter((text) => !saidAlike.has(text))).toEqual([]);
  });
});

describe("sources that are no publications", () => {
  it("have a name and a text in words: their reference is English alone", () => {
    const own = [...sources.values()].filter(({ status }) => status === "computed" || status === "practice");
    expect(own.length).toBeGreaterThan(5);
    const lacking = own.flatMap(({ id }) => ["name", "text"].map((part) => `source.${part}.${id}`));
    expect(lacking.filter((id) => !Object.hasOwn(english, id))).toEqual([]);
  });
});

describe("French", () => {
  it("has a space that does not break before double signs and inside quotation marks", () => {
    const bare = (text: string): string =>
      text.replace(/\{\w+, number[^{}]*\}/g, "{n}").replace(/\u2066[^\u2069]*\u2069/g, "");
    const wrong = Object.entries(read("fr")).filter(([, text]) =>
      /[ ](?:[;!?\u00BB%]|:(?!:))|\u00AB(?!\u00A0)|[^\s\u00A0\u202F][;!?\u00BB]|\d%/.test(bare(text)),
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
});
