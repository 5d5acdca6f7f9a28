import { describe, expect, it } from "vitest";
import { placeHeights } from "../../src/derive/position.js";

function place(rows: readonly (readonly [days: number, height: number, position: 0 | 1 | 2])[]) {
  const placed = placeHeights(
    Float64Array.from(rows, ([days]) => days),
    Float64Array.from(rows, ([, height]) => height),
    Uint8Array.from(rows, ([, , position]) => position),
  );
  return Array.from(placed.positionWanted, (wanted, i) => [wanted, Number(placed.standardHeight[i]?.toFixed(6))]);
}

const unknown = Number.NaN;

describe("measuring position", () => {
  it("is length to day 730 and height from day 731, converted by 0.7 cm", () => {
    expect(
      place([
        [730, 86, 1],
        [730, 86, 2],
        [730, 86, 0],
        [731, 86, 1],
        [731, 86, 2],
        [731, 86, 0],
      ]),
    ).toEqual([
      [1, 86],
      [1, 86.7],
      [1, 86],
      [2, 85.3],
      [2, 86],
      [2, 86],
    ]);
  });

  it("is height at 24 months written as a number, length just below", () => {
    expect(
      place([
        [24 * 30.4375, 86, 1],
        [23.99 * 30.4375, 86, 2],
      ]),
    ).toEqual([
      [2, 85.3],
      [1, 86.7],
    ]);
  });

  it("is as recorded, without conversion, where age is unknown", () => {
    expect(
      place([
        [unknown, 100, 1],
        [unknown, 60, 2],
      ]),
    ).toEqual([
      [1, 100],
      [2, 60],
    ]);
  });

  it("goes by 87 cm where age and position are unknown, and stays open where nothing is known", () => {
    expect(
      place([
        [unknown, 86.9, 0],
        [unknown, 87, 0],
        [unknown, unknown, 0],
      ]),
    ).toEqual([
      [1, 86.9],
      [2, 87],
      [0, Number.NaN],
    ]);
  });

  it("goes by age alone in a survey without heights or positions", () => {
    const placed = placeHeights(Float64Array.of(100, 1000), null, null);
    expect([...placed.positionWanted]).toEqual([1, 2]);
    expect([...placed.standardHeight]).toEqual([Number.NaN, Number.NaN]);
  });
});
