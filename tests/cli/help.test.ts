import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { helpLanguage } from "../../src/cli/help-language.js";
import { call } from "./run-here.js";

const languages = ["en", "fr", "es", "pt", "ar"] as const;
const commands = ["report", "describe", "compare", "render", "explain", "example"] as const;
const calls = [["--help"], ...commands.map((name) => [name, "--help"])];

/** Help as one line of text, so that it does not matter where lines break. */
async function helpOf(args: readonly string[], language: string): Promise<string> {
  const { code, out, err } = await call(args, { environment: { LANG: `${language}_XX.UTF-8` } });
  expect([code, err], args.join(" ")).toEqual([0, ""]);
  return out.replace(/\s+/g, " ");
}

const table = (language: string): Record<string, string> =>
  JSON.parse(readFileSync(new URL(`../../templates/locales/${language}.json`, import.meta.url), "utf8"));

/** Messages of help that hold no value, so that they can be looked for as they are. */
const plain = (language: string): [id: string, text: string][] =>
  Object.entries(table(language))
    .filter(([id, text]) => id.startsWith("cli.help.") && !text.includes("{"))
    .map(([id, text]) => [id, text.replace(/[\u2066-\u2069]/g, "").replace(/\s+/g, " ")]);

describe("help in the language of the reader", () => {
  it.each(languages)(
    "holds every text of it, and no English one where another language is spoken (%s)",
    async (own) => {
      const shown = (await Promise.all(calls.map((args) => helpOf(args, own)))).join(" ");
      const texts = plain(own);
      expect(texts.length).toBeGreaterThan(40);
      expect(texts.filter(([, text]) => !shown.includes(text))).toEqual([]);
      if (own === "en") return;
      const ours = new Map(texts);
      // A text of several words that another language shares with English would be one that was not translated.
      const english = plain("en").filter(([, text]) => text.includes(" "));
      expect(english.filter(([id, text]) => ours.get(id) === text)).toEqual([]);
      expect(english.filter(([, text]) => shown.includes(text))).toEqual([]);
      expect(shown).not.toMatch(/\b(?:display help|default:|choices:|Usage|for command)/);
    },
  );

  it("leaves no text unmarked in the pseudo-language", async () => {
    const { out } = await call(["report", "--language", "xx", "--help"]);
    const told = out
      .replace(/\s+/g, " ")
      .replace(/\[[^[\]]*(?:\[[^[\]]*\][^[\]]*)*\]/g, "")
      .replace(/tareline report [\w./-]+(?: --out reports)?/g, "")
      .replace(/(?<![\w-])-{1,2}[\w-]+/g, "");
    expect(told.match(/[a-z]{2,}/gi) ?? []).toEqual(["tareline", "report"]);
  });

  it("is that of --language before that of the computer; of what is not spoken here, English", () => {
    const machine = { LC_ALL: "", LC_MESSAGES: "pt_MZ.UTF-8", LANG: "es_GT" };
    expect(helpLanguage(["report", "--help"], machine)).toBe("pt");
    expect(helpLanguage(["report", "--help"], { ...machine, LC_ALL: "ar" })).toBe("ar");
    expect(helpLanguage(["report", "--language", "fr,en", "--help"], machine)).toBe("fr");
    expect(helpLanguage(["report", "--language=fr"], machine)).toBe("fr");
    for (const told of ["C", "POSIX", "C.UTF-8", "de_DE.UTF-8", "english"])
      expect(helpLanguage([], { LANG: told }), told).toBe("en");
    expect(helpLanguage(["report", "--language"], {})).toBe("en");
    expect(helpLanguage(["report", "--language", "de"], { LANG: "fr_FR" })).toBe("fr");
  });
});

describe("a call that cannot be read", () => {
  const faults: readonly (readonly [args: readonly string[], names: readonly string[]])[] = [
    [["reprot"], ["reprot", "report", "tareline --help"]],
    [
      ["report", "a", "--no-pfd"],
      ["--no-pfd", "--no-pdf", "tareline report --help"],
    ],
    [["report"], ["tareline report --help"]],
    [
      ["report", "a", "--out"],
      ["--out", "tareline report --help"],
    ],
    [
      ["report", "a", "b", "c"],
      ["3", "tareline report --help"],
    ],
    [
      ["report", "a", "--fail-on", "it's"],
      ["--fail-on", "it's", "explain, doubt, unknown"],
    ],
  ];

  it.each(languages)("is told of in the reader's language, with what to do (%s)", async (language) => {
    const environment = { LANG: language };
    for (const [args, names] of faults) {
      const { code, out, err } = await call(args, { environment });
      expect([code, out], args.join(" ")).toEqual([2, ""]);
      for (const name of names) expect(err).toContain(name);
      expect(err).not.toMatch(/error:|\[\[/);
      if (language !== "en") expect(err).not.toMatch(/\b(?:unknown (?:option|command)|missing|There is|Did you)\b/);
    }
  });

  it("says nothing beside the help where no command is named, and beside the version", async () => {
    const { err } = await call([], { environment: { LANG: "fr" } });
    expect(err).toMatch(/^Utilisation/);
    expect(err).not.toContain("commander");
    expect((await call(["--version"])).err).toBe("");
  });
});
