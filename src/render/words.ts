import { IntlMessageFormat } from "intl-messageformat";
import type { MessageId } from "../results/message-ids.js";
import type { Message, MessageValue, Unit } from "../results/schema.js";
import { asPrinted, isolated, printingIsolated, runsRightToLeft } from "./isolate.js";
import { emDash, numberFormat, writeNumber } from "./numbers.js";
import { accented, pseudo } from "./pseudo.js";
import { hasTemplate, templateText } from "./templates.js";

/** All words and number forms of one language. */
export interface Words {
  /** As in the `lang` attribute. */
  readonly language: string;
  readonly direction: "ltr" | "rtl";
  /**
   * Plain text of a message, nested messages and lists resolved; a string is data and comes back as it is. From right to
   * left data stand in isolates (Unicode Standard Annex 9), so that they keep their own order.
   */
  text(message: Message | string): string;
  /** True when the language, or English, has this message. */
  has(id: string): id is MessageId;
  /** Ids of the messages whose id begins so, in alphabetical order. */
  idsOf(prefix: string): readonly MessageId[];
  /** A number in its unit; an em dash when there is none. */
  number(value: number | null | undefined, unit: Unit): string;
  /** The number at a tick of an axis, with as many decimals as the axis needs. */
  tick(value: number, unit: Unit, decimals: number): string;
  /** 'low to high'; an em dash when there is none. */
  interval(interval: { readonly low: number; readonly high: number } | null | undefined, unit: Unit): string;
  /** 'a, b and c'. */
  list(items: readonly string[]): string;
  /** Short facts beside each other in one line. */
  parts(items: readonly string[]): string;
  /** An ISO day in words. */
  day(iso: string): string;
  /** The short name of an ISO day's month, for the ticks of an axis. */
  month(iso: string): string;
  /** Ids asked for that neither the language nor English has, and messages that could not be formed. */
  readonly missing: ReadonlySet<string>;
}

type Table = Readonly<Record<string, string>>;

/** The locale dates and numbers are written in. Latin digits are asked for by name: a language alone does not settle them. */
const locales: Readonly<Record<string, string>> = { en: "en-GB", xx: "en-GB" };
const rightToLeft = new Set(["ar", "fa", "he", "ps", "ur"]);

function readTable(path: string): Table {
  return JSON.parse(templateText(path)) as Table;
}

const tables = new Map<string, Table>();

/** One language's words: templates/locales/<language>.json. */
function tableOf(language: string): Table {
  const known = tables.get(language);
  if (known !== undefined) return known;
  const path = `locales/${language}.json`;
  const table: Table = hasTemplate(path) ? readTable(path) : {};
  tables.set(language, table);
  return table;
}

const resolveLocale = IntlMessageFormat.resolveLocale;
const resolved = new Map<string, Intl.Locale | undefined>();
/** The library looks the same locale up anew for every message, which takes longer than reading the message. */
IntlMessageFormat.resolveLocale = (locales) => {
  const key = String(locales);
  if (!resolved.has(key)) resolved.set(key, resolveLocale(locales));
  return resolved.get(key);
};

/** Compiled messages and number forms of one language. */
class LanguageWords implements Words {
  readonly direction: "ltr" | "rtl";
  readonly missing = new Set<string>();
  readonly #locale: string;
  readonly #compiled = new Map<string, Pick<IntlMessageFormat, "format"> | null>();
  /** Intl's own objects take long to make and are asked for again and again: each is made once. */
  #months: Intl.DateTimeFormat | undefined;
  #days: Intl.DateTimeFormat | undefined;
  #lists: Intl.ListFormat | undefined;
  readonly #plurals = new Map<string, Intl.PluralRules>();

  constructor(
    readonly language: string,
    private readonly own: Table,
    private readonly fallback: Table,
  ) {
    this.direction = rightToLeft.has(language) ? "rtl" : "ltr";
    this.#locale = `${locales[language] ?? language}-u-nu-latn`;
  }

  has(id: string): id is MessageId {
    return Object.hasOwn(this.own, id) || Object.hasOwn(this.fallback, id);
  }

  idsOf(prefix: string): readonly MessageId[] {
    return Object.keys(this.fallback).filter((id): id is MessageId => id.startsWith(prefix));
  }

  text(message: Message | string): string {
    if (typeof message === "string") return this.#data(message);
    const compiled = this.#compile(message.id);
    if (compiled === null) return this.#absent(message.id);
    const values = Object.entries(message.values).flatMap(([name, value]) => this.#named(name, value));
    try {
      return String(compiled.format(Object.fromEntries(values)));
    } catch {
      return this.#absent(message.id);
    }
  }

  number(value: number | null | undefined, unit: Unit): string {
    if (value === null || value === undefined || !Number.isFinite(value)) return emDash;
    // A rounded 0.000 would say 'impossible', a rounded 1.000 'certain'.
    if (unit === "probability" && value < 0.001) return this.text({ id: "number.probability.below", values: {} });
    if (unit === "probability" && value > 0.999) return this.text({ id: "number.probability.above", values: {} });
    return writeNumber(this.#locale, value, unit);
  }

  tick(value: number, unit: Unit, decimals: number): string {
    return writeNumber(this.#locale, value, unit, decimals);
  }

  interval(interval: { readonly low: number; readonly high: number } | null | undefined, unit: Unit): string {
    if (interval === null || interval === undefined) return emDash;
    const values = {
      low: this.number(interval.low, unit),
      high: this.number(interval.high, unit),
    };
    return this.text({ id: "number.interval", values });
  }

  list(items: readonly string[]): string {
    this.#lists ??= new Intl.ListFormat(this.#locale, { style: "long", type: "conjunction" });
    const parts = this.#lists.formatToParts(items);
    return parts.map(({ type, value }) => (type === "literal" ? this.#builtIn(value) : value)).join("");
  }

  parts(items: readonly string[]): string {
    return items.join(this.text({ id: "separator.parts", values: {} }));
  }

  day(iso: string): string {
    const day = new Date(`${iso}T00:00:00Z`);
    if (Number.isNaN(day.getTime())) return this.#data(iso);
    this.#days ??= new Intl.DateTimeFormat(this.#locale, { dateStyle: "long", timeZone: "UTC" });
    return this.#builtIn(this.#days.format(day));
  }

  month(iso: string): string {
    const day = new Date(`${iso}T00:00:00Z`);
    if (Number.isNaN(day.getTime())) return this.#data(iso);
    this.#months ??= new Intl.DateTimeFormat(this.#locale, { month: "short", timeZone: "UTC" });
    return this.#builtIn(this.#months.format(day));
  }

  /** Words that come with the computer and not from the words file; the pseudo-language marks them all the same. */
  #builtIn(text: string): string {
    return this.language === "xx" ? accented(text) : text;
  }

  /** Data keep their own order within a sentence from right to left, and letters from right to left theirs in any sentence. */
  #data(text: string): string {
    return this.direction === "rtl" || runsRightToLeft(text) ? isolated(text) : text;
  }

  #named(name: string, value: MessageValue): [name: string, value: string | number][] {
    const given = this.#value(value);
    if (this.direction === "ltr") return [[name, typeof value === "string" ? this.#data(value) : given]];
    return [
      [name, given],
      [asPrinted(name), typeof value === "string" ? isolated(value) : given],
    ];
  }

  #value(value: MessageValue): string | number {
    if (typeof value === "string") return value;
    if (typeof value === "number") return Object.is(value, -0) ? 0 : value;
    if (!isList(value)) return this.text(value);
    return this.list(
      value.map((item) => (typeof item === "number" ? numberFormat(this.#locale, {}).format(item) : this.text(item))),
    );
  }

  #compile(id: string): Pick<IntlMessageFormat, "format"> | null {
    const known = this.#compiled.get(id);
    if (known !== undefined) return known;
    const pattern = Object.hasOwn(this.own, id) ? this.own[id] : this.fallback[id];
    const compiled = pattern === undefined || !this.has(id) ? null : this.#parse(pattern);
    this.#compiled.set(id, compiled);
    return compiled;
  }

  #parse(pattern: string): Pick<IntlMessageFormat, "format"> | null {
    // Most messages are words alone: they need no reading and stand as they are.
    if (this.language !== "xx" && !/[{}']/.test(pattern)) return { format: () => pattern };
    const options = {
      ignoreTag: true,
      formatters: {
        getNumberFormat: (_: unknown, style: object = {}) => numberFormat(this.#locale, style),
        getDateTimeFormat: (...a: ConstructorParameters<typeof Intl.DateTimeFormat>) => new Intl.DateTimeFormat(...a),
        getPluralRules: (_: unknown, { type = "cardinal" }: Intl.PluralRulesOptions = {}) => this.#pluralsOf(type),
      },
    };
    try {
      const compiled = new IntlMessageFormat(pattern, this.#locale, undefined, options);
      if (this.direction === "rtl") {
        return new IntlMessageFormat(printingIsolated(compiled.getAst()), this.#locale, undefined, options);
      }
      if (this.language !== "xx") return compiled;
      return new IntlMessageFormat(pseudo(compiled.getAst()), this.#locale, undefined, options);
    } catch {
      return null;
    }
  }

  #pluralsOf(type: Intl.PluralRuleType): Intl.PluralRules {
    const made = this.#plurals.get(type) ?? new Intl.PluralRules(this.#locale, { type });
    this.#plurals.set(type, made);
    return made;
  }

  /** A visible mark: a text that is not there must not look like an empty one. */
  #absent(id: string): string {
    this.missing.add(id);
    return `[[${id}]]`;
  }
}

function isList(value: MessageValue): value is readonly (string | number | Message)[] {
  return Array.isArray(value);
}

/**
 * The words of a language, English standing in where it lacks a message. 'xx' is the pseudo-language: English with accents
 * in brackets. `more` adds messages (for tests).
 */
export function loadWords(language: string, more: Readonly<Record<string, string>> = {}): Words {
  const english = { ...tableOf("en"), ...more };
  return new LanguageWords(language, language === "en" || language === "xx" ? english : tableOf(language), english);
}
