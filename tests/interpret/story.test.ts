import { describe, expect, it } from "vitest";
import { type Story, tellStory } from "../../src/interpret/story.js";
import type { Consequence, Message } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";
import { check, classes, estimate, inEverySection, results } from "./small-results.js";

/** The message nested in another under this name. */
function part(outer: Message | undefined, name: string): Message {
  const value = outer?.values[name];
  if (typeof value !== "object" || value === null || !("id" in value)) throw new Error(`no message '${name}'`);
  return value;
}

/** A name inside a sentence stands in quotation marks. */
const quoted = (id: string): Message => message("story.quoted", { label: message(id) });

/** Every message id, nested ones too. */
function idsIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(idsIn);
  if (typeof value !== "object" || value === null) return [];
  const own = "id" in value && "values" in value && typeof value.id === "string" ? [value.id] : [];
  return [...own, ...Object.values(value).flatMap(idsIn)];
}

const fine = inEverySection("expected");
const wasting = estimate("wasting", classes("high", ["high"]));

describe("the sentence on the estimate", () => {
  const sentence = (...estimates: Parameters<typeof results>[1]): Message =>
    part(tellStory(results(fine, estimates)).sentence, "estimate");

  it("says that none could be made when there is none", () => {
    for (const none of [[], [estimate("wasting", null), estimate("stunting", { value: null, interval: null })]]) {
      expect(sentence(...none)).toEqual(message("story.estimate.nothing"));
    }
  });

  it("one class: the class and its scheme", () => {
    expect(sentence(wasting)).toEqual(
      message("story.estimate.one-class", {
        estimate: message("estimate.wasting"),
        value: 0.104,
        n: 400,
        low: 0.082,
        high: 0.13,
        class: message("class.high"),
        scheme: message("scheme.who-unicef-2019"),
      }),
    );
  });

  it("several classes: the others the interval reaches, lowest first, without the estimate's own", () => {
    const said = sentence(estimate("wasting", classes("high", ["medium", "high", "very-high"])));
    expect(said.id).toBe("story.estimate.several-classes");
    expect(said.values.class).toEqual(message("class.high"));
    expect(said.values.others).toEqual([message("class.medium"), message("class.very-high")]);
  });

  it("no published class, and no interval", () => {
    expect(sentence(estimate("acute-malnutrition-by-arm-circumference", {})).id).toBe("story.estimate.no-class");
    const bare = sentence(estimate("wasting", { interval: null, reason: message("cell.one-cluster") }));
    expect(bare).toEqual(
      message("story.estimate.no-interval", {
        estimate: message("estimate.wasting"),
        value: 0.104,
        n: 400,
        reason: message("cell.one-cluster"),
      }),
    );
  });

  it("says on how few children an estimate rests, below 50", () => {
    const few = sentence(estimate("wasting", { ...classes("high", ["high"]), n: 49 }));
    expect(few.id).toBe("story.estimate.few");
    expect(few.values.n).toBe(49);
    expect(part(few, "estimate").id).toBe("story.estimate.one-class");
    expect(sentence(estimate("wasting", { ...classes("high", ["high"]), n: 50 })).id).toBe("story.estimate.one-class");
  });

  it("takes wasting first, then arm circumference, stunting, underweight, whatever their order", () => {
    const others = ["underweight", "stunting", "acute-malnutrition-by-arm-circumference", "wasting"].map((id) =>
      estimate(id, {}),
    );
    for (const id of ["wasting", "acute-malnutrition-by-arm-circumference", "stunting", "underweight"]) {
      expect(sentence(...others).values.estimate).toEqual(message(`estimate.${id}`));
      others.pop();
    }
  });

  it("an estimate of exactly zero is an estimate", () => {
    expect(sentence(estimate("wasting", { value: 0, ...classes("very-low", ["very-low"]) })).values.value).toBe(0);
  });
});

describe("the sentence on the measurements", () => {
  const quality = (checks: Parameters<typeof results>[0]): Message =>
    part(tellStory(results(checks, [wasting])).sentence, "quality");

  it("all as expected", () => {
    expect(quality(fine)).toEqual(message("story.quality.expected", { checks: 4, doubts: 0, explains: 0, unknown: 0 }));
  });

  it("explain: names those that need it", () => {
    const said = quality([...fine, check("weight-digits", "explain")]);
    expect(said.id).toBe("story.quality.explain");
    expect(said.values).toMatchObject({ checks: 5, explains: 1, names: [quoted("checks.weight-digits.title")] });
  });

  it("doubt comes before explain, and is not diluted by it", () => {
    const said = quality([check("a", "explain"), ...fine, check("b", "doubt")]);
    expect(said).toMatchObject({
      id: "story.quality.doubt",
      values: { doubts: 1, names: [quoted("checks.b.title")] },
    });
  });

  it("unknown never reads as fine", () => {
    expect(quality([...fine, check("a", "unknown")])).toMatchObject({
      id: "story.quality.expected-with-unknown",
      values: { unknown: 1, checks: 5 },
    });
    const story = tellStory(results(inEverySection("unknown"), [wasting]));
    const fineWords = /\.expected$|next\.nothing$/;
    expect(idsIn(story).filter((id) => fineWords.test(id))).toEqual([]);
    expect(part(story.sentence, "quality").id).not.toBe("story.quality.expected");
    expect(story.paragraphs).toContainEqual(
      message("story.unknown", {
        count: 4,
        names: ["who", "how", "what", "where"].map((section) => quoted(`checks.${section}-unknown.title`)),
      }),
    );
  });

  it("nothing could be checked at all: it isn't said that the others are as expected", () => {
    expect(quality(inEverySection("unknown")).id).not.toBe("story.quality.expected-with-unknown");
    expect(quality([]).id).not.toBe("story.quality.expected");
  });
});

describe("headings of the sections", () => {
  const headings = (checks: Parameters<typeof results>[0]) => tellStory(results(checks, [wasting])).headings;

  it("one for each section, from its own checks alone", () => {
    const mixed = [
      check("age-heaping", "doubt", { section: "who" }),
      check("weight-digits", "expected", { section: "how" }),
      check("spread", "unknown", { section: "what" }),
      check("clusters-differ", "unknown", { section: "where" }),
      check("teams-differ", "expected", { section: "where" }),
    ];
    expect(headings(mixed)).toMatchObject({
      who: { id: "story.heading.who.concern", values: { count: 1, names: [quoted("checks.age-heaping.title")] } },
      how: { id: "story.heading.how.expected" },
      what: { id: "story.heading.what.unknown" },
      where: {
        id: "story.heading.where.partly-unknown",
        values: { names: [quoted("checks.clusters-differ.title")] },
      },
    });
  });

  it("names doubts before what needs explaining", () => {
    const two = [check("a", "explain", { section: "who" }), check("b", "doubt", { section: "who" })];
    expect(headings(two).who?.values.names).toEqual([quoted("checks.b.title"), quoted("checks.a.title")]);
  });

  it("a section without any check cannot tell", () => {
    expect(headings([check("a", "expected", { section: "who" })]).where?.id).toBe("story.heading.where.unknown");
  });

  it("prevalence leaves the numbers to its own parts, unless there are none", () => {
    expect(headings(fine).prevalence).toBeUndefined();
    expect(tellStory(results(fine, [])).headings.prevalence).toEqual(message("story.estimate.nothing"));
  });

  it("the follow-up opens with how many checks ask for it, and the rows to look at", () => {
    const rows = [check("a", "explain", { rowsToCheck: 3 }), check("b", "expected", { rowsToCheck: 2 })];
    const said = headings([...rows, check("c", "doubt"), check("d", "expected"), check("e", "unknown")]);
    expect(said["follow-up"]).toEqual(message("story.heading.to-follow-up", { points: 3, count: 5 }));
  });
});

describe("findings and next steps", () => {
  const action = (name: string): Message => message("action", { name });
  const checks = [
    check("one", "explain", { actions: [action("retrain")] }),
    check("two", "expected", { actions: [action("celebrate")] }),
    check("three", "doubt", { actions: [action("ask the team"), action("measure again")] }),
    check("four", "unknown", { actions: [action("guess")] }),
    check("five", "explain", { actions: [action("retrain")] }),
    check("six", "doubt", { actions: [action("retrain")] }),
    check("seven", "explain"),
  ];

  it("findings: doubts first, then what needs explaining, each in the order of the report; no others", () => {
    const { findings } = tellStory(results(checks, [wasting]));
    expect(findings.map((finding) => finding.check)).toEqual(["three", "six", "one", "five", "seven"]);
    expect(findings[0]?.message).toEqual(message("finding.three"));
  });

  it("next steps: the first action of each, most serious first, none twice", () => {
    expect(tellStory(results(checks, [wasting])).next).toEqual([action("ask the team"), action("retrain")]);
  });

  it("rows to look at come last, and count over all checks", () => {
    const withRows = [...checks, check("eight", "expected", { rowsToCheck: 7 })];
    expect(tellStory(results(withRows, [wasting])).next.at(-1)).toEqual(message("story.next.rows", { count: 7 }));
  });

  it("says so when nothing is asked for, and never when something could not be checked at all", () => {
    expect(tellStory(results(fine, [wasting])).next).toEqual([message("story.next.nothing")]);
  });
});

describe("the rest of the first page", () => {
  it("further estimates follow in a fixed order, each once, the headline not again", () => {
    const several = ["overweight", "stunting", "wasting", "underweight", "acute-malnutrition-combined"].map((id) =>
      estimate(id, {}),
    );
    const said = tellStory(results(fine, several)).paragraphs.map((paragraph) => part(paragraph, "estimate").id);
    expect(said).toEqual(["estimate.acute-malnutrition-combined", "estimate.stunting"]);
    const onlyStunting = tellStory(results(fine, [estimate("stunting", {})]));
    expect(onlyStunting.paragraphs).toEqual([]);
  });

  it("cautions are always there, also for invented data, which the cover calls so", () => {
    const plain = tellStory(results(fine, [wasting])).cautions.map((caution) => caution.id);
    expect(plain).toContain("caution.validity");
    expect(plain).toContain("caution.referral");
    const { survey } = results(fine, []);
    const invented = tellStory(results(fine, [wasting], { survey: { ...survey, invented: true } })).cautions;
    expect(invented.map((caution) => caution.id)).toEqual(plain);
  });

  describe("what can be said, once it was computed", () => {
    const said = message("what-can-be-said");
    const told = (of: string): Story => {
      const none = {
        answers: [],
        claims: [],
        repairs: [],
        withoutRepair: [],
        choices: [],
        influence: [],
        settling: [],
      };
      const consequence: Consequence = {
        ...none,
        draws: 0,
        sentences: [{ estimate: of, message: said }],
        tippingPoints: [],
        scenarios: [],
        heading: message("said"),
        paragraphs: [],
        method: [],
        charts: [],
        tables: [],
        sources: [],
      };
      return tellStory(results(fine, [wasting], { consequence }));
    };

    it("is the first sentence in place of the plain estimate, and heads its section", () => {
      const story = told("wasting");
      expect(part(story.sentence, "estimate")).toEqual(said);
      expect(story.headings.consequence).toEqual(message("said"));
      expect(tellStory(results(fine, [wasting])).headings.consequence).toBeUndefined();
    });

    it("leaves the plain estimate where nothing was claimed of the headline", () => {
      expect(part(told("stunting").sentence, "estimate")).toEqual(
        part(tellStory(results(fine, [wasting])).sentence, "estimate"),
      );
    });
  });

  it("is the same for the same results, and changes nothing in them", () => {
    const input = results([check("a", "doubt"), ...fine], [wasting]);
    const before = structuredClone(input);
    expect(tellStory(input)).toEqual(tellStory(input));
    expect(input).toEqual(before);
  });
});
