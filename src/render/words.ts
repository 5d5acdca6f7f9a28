import { IntlMessageFormat } from "intl-messageformat";
import type { Message, MessageValue, Unit } from "../results/schema.js";
import { emDash, numberFormat, writeNumber } from "./numbers.js";
import { pseudo } from "./pseudo.js";
import { hasTemplate, templateText } from "./templates.js";

/** All words and number forms of one language. */
export interface Words {
  /** As in the `lang` attribute. */
  readonly language: string;
  readonly direction: "ltr" | "rtl";
  /** Plain text of a message, nested messages and lists resolved; a string is data and comes back as it is. */
  text(message: Message | string): string;
  /** True when the language, or English, has this message. */
  has(id: string): boolean;
  /** A number in its unit; an em dash when there is none. */
  number(value: number | null | undefined, unit: Unit): string;
  /** The number at a tick of an axis, with as many decimals as the axis needs. */
  tick(value: number, unit: Unit, decimals: number): string;
  /** 'low to high'; an em dash when there is none. */
  interval(interval: { readonly low: number; readonly high: number } | null | undefined, unit: Unit): string;
  /** 'a, b and c'. */
  list(items: readonly string[]): string;
  /** An ISO day in words. */
  day(iso: string): string;
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

/** Compiled messages and number forms of one language. */
class LanguageWords implements Words {
  readonly direction: "ltr" | "rtl";
  readonly missing = new Set<string>();
  readonly #locale: string;
  readonly #compiled = new Map<string, IntlMessageFormat | null>();

  constructor(
    readonly language: string,
    private readonly own: Table,
    private readonly fallback: Table,
  ) {
    this.direction = rightToLeft.has(language) ? "rtl" : "ltr";
    this.#locale = `${locales[language] ?? language}-u-nu-latn`;
  }

  has(id: string): boolean {
    return Object.hasOwn(this.own, id) || Object.hasOwn(this.fallback, id);
  }

  text(message: Message | string): string {
    if (typeof message === "string") return message;
    const compiled = this.#compile(message.id);
    if (compiled === null) return this.#absent(message.id);
    const values = Object.entries(message.values).map(([name, value]) => [name, this.#value(value)]);
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
    return new Intl.ListFormat(this.#locale, {
      style: "long",
      type: "conjunction",
    }).format(items);
  }

  day(iso: string): string {
    const day = new Date(`${iso}T00:00:00Z`);
    if (Number.isNaN(day.getTime())) return iso;
    return new Intl.DateTimeFormat(this.#locale, {
      dateStyle: "long",
      timeZone: "UTC",
    }).format(day);
  }

  #value(value: MessageValue): string | number {
    if (typeof value === "string") return value;
    if (typeof value === "number") return Object.is(value, -0) ? 0 : value;
    if (!isList(value)) return this.text(value);
    return this.list(
      value.map((item) => (typeof item === "number" ? numberFormat(this.#locale, {}).format(item) : this.text(item))),
    );
  }

  #compile(id: string): IntlMessageFormat | null {
    const known = this.#compiled.get(id);
    if (known !== undefined) return known;
    const pattern = Object.hasOwn(this.own, id) ? this.own[id] : this.fallback[id];
    const compiled = pattern === undefined || !this.has(id) ? null : this.#parse(pattern);
    this.#compiled.set(id, compiled);
    return compiled;
  }

  #parse(pattern: string): IntlMessageFormat | null {
    const options = {
      ignoreTag: true,
      formatters: {
        getNumberFormat: (_: unknown, style: object = {}) => numberFormat(this.#locale, style),
        getDateTimeFormat: (...a: ConstructorParameters<typeof Intl.DateTimeFormat>) => new Intl.DateTimeFormat(...a),
        getPluralRules: (...a: ConstructorParameters<typeof Intl.PluralRules>) => new Intl.PluralRules(...a),
      },
    };
    try {
      const compiled = new IntlMessageFormat(pattern, this.#locale, undefined, options);
      if (this.language !== "xx") return compiled;
      return new IntlMessageFormat(pseudo(compiled.getAst()), this.#locale, undefined, options);
    } catch {
      return null;
    }
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
