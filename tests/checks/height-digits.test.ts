import { describe, expect, it } from "vitest";
import { heightDigits } from "../../src/checks/height-digits/index.js";
import type { Children } from "../../src/derive/children.js";
import { expectComplete, itHolds, resultOf, sentencesOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { exampleChildren } from "./example-children.js";

itHolds(heightDigits);

/** The survey with the heights of some children rounded to the whole centimetre. */
function rounded(children: Children, which: (child: number) => boolean): Children {
  const height = children.height as NonNullable<Children["height"]>;
  return {
    ...children,
    height: { ...height, values: height.values.map((value, child) => (which(child) ? Math.round(value) : value)) },
  };
}

describe("height-digits", () => {
  it("finds and names one team that rounds; the survey needs explaining", () => {
    const base = cleanSurvey({ seed: 12 });
    const result = resultOf(
      heightDigits,
      rounded(base, (child) => base.team?.codes[child] === 3 && child % 10 < 7),
    );
    expect(result.reading).toBe("explain");
    expect(result.finding.id).toBe("checks.height-digits.finding.teams");
    expect(result.finding.values.teams).toEqual(["T4"]);
    expect(result.groups.filter(({ reading }) => reading !== "expected").map(({ label }) => label)).toEqual(["T4"]);
    expectComplete(result);
  });

  it("the invented survey's rounding team is found, whatever else is planted", () => {
    for (let seed = 40; seed < 50; seed++) {
      const result = resultOf(heightDigits, exampleChildren(seed, { heightRounding: { team: "T4", share: 0.7 } }));
      expect(result.finding.values.teams).toEqual(["T4"]);
    }
  });

  it("nearly all heights in whole centimetres: doubt, and a standard deviation near 0.289 cm", () => {
    const base = cleanSurvey({ seed: 13 });
    const result = resultOf(
      heightDigits,
      rounded(base, (child) => child % 50 !== 0),
    );
    expect(result.reading).toBe("doubt");
    // 1 / sqrt(12) = 0.2887 for all readings; here 98 of 100, less the tenth that end in 0 by chance.
    const added = result.quantities.find(({ id }) => id === "digit-added-spread")?.value ?? 0;
    expect(added).toBeGreaterThan(0.28);
    expect(added).toBeLessThan(0.2887);
  });

  it("a column of whole centimetres: the step is named", () => {
    const base = rounded(cleanSurvey({ seed: 14 }), () => true);
    const height = { ...(base.height as NonNullable<Children["height"]>), step: 1 };
    const result = resultOf(heightDigits, { ...base, height });
    expect(result.finding.id).toBe("checks.height-digits.finding.step");
    expect(result.quantities.find(({ id }) => id === "digit-step-spread")?.value).toBeCloseTo(0.288675, 6);
    expect(result.reading).toBe("doubt");
    expectComplete(result);
  });

  it("blames nobody and never says so", () => {
    const base = cleanSurvey({ seed: 12 });
    const result = resultOf(
      heightDigits,
      rounded(base, (child) => base.team?.codes[child] === 3),
    );
    expect(sentencesOf(result).join(" ")).not.toMatch(/fabricat|cheat|falsif|fraud/i);
  });
});
