import { describe, expect, it } from "vitest";
import { bridgesOf } from "../../src/stats/bridges.js";
import { randomStream } from "../../src/stats/random.js";

const edges = (...pairs: readonly (readonly [number, number])[]) => pairs.map(([from, to]) => ({ from, to }));

/** Parts that a graph falls into, by walking it. */
function parts(graph: ReturnType<typeof edges>, nodes: number): number {
  const part = Array.from({ length: nodes }, (_, i) => i);
  const rootOf = (node: number): number => (part[node] === node ? node : rootOf(part[node] ?? node));
  for (const { from, to } of graph) part[rootOf(from)] = rootOf(to);
  return part.filter((own, i) => own === i).length;
}

describe("bridges of a graph", () => {
  it.each([
    ["none of no edges", edges(), []],
    ["every edge of a path", edges([0, 1], [1, 2], [2, 3]), [0, 1, 2]],
    ["no edge of a ring", edges([0, 1], [1, 2], [2, 0]), []],
    ["the edge between two rings", edges([0, 1], [1, 2], [2, 0], [2, 3], [3, 4], [4, 5], [5, 3]), [3]],
    ["no two edges between the same nodes", edges([0, 1], [0, 1], [1, 2]), [2]],
    ["in every part of the graph", edges([0, 1], [5, 6], [6, 7], [7, 5], [7, 8]), [0, 4]],
  ])("%s", (_, graph, expected) => expect([...bridgesOf(graph)].sort((a, b) => a - b)).toEqual(expected));

  // The definition itself: a bridge is an edge without which the graph falls into more parts.
  it("are, in 300 random graphs, the edges whose removal makes one part more", () => {
    const stream = randomStream(7);
    let found = 0;
    for (let round = 0; round < 300; round++) {
      const nodes = 2 + stream.below(9);
      const graph = Array.from({ length: stream.below(14) }, () => {
        const from = stream.below(nodes);
        return { from, to: (from + 1 + stream.below(nodes - 1)) % nodes };
      });
      const whole = parts(graph, nodes);
      const expected = graph.flatMap((_, at) =>
        parts(
          graph.filter((__, i) => i !== at),
          nodes,
        ) > whole
          ? [at]
          : [],
      );
      expect([...bridgesOf(graph)].sort((a, b) => a - b)).toEqual(expected);
      found += expected.length;
    }
    expect(found).toBeGreaterThan(200);
  });

  it("a path of 100,000 edges does not exhaust the stack", () => {
    const path = Array.from({ length: 100_000 }, (_, i) => ({ from: i, to: i + 1 }));
    expect(bridgesOf(path).size).toBe(100_000);
  });
});
