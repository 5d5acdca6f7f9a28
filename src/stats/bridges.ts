/** An edge of an undirected graph between two numbered nodes. */
export interface Edge {
  readonly from: number;
  readonly to: number;
}

/**
 * Positions of the bridges of a graph: edges without which it would fall into more parts. Two edges between the same nodes
 * are no bridges. Depth-first search in linear time, without recursion (Tarjan 1974, from memory).
 */
export function bridgesOf(edges: readonly Edge[]): ReadonlySet<number> {
  const around = new Map<number, { readonly node: number; readonly edge: number }[]>();
  const link = (from: number, to: number, edge: number): void => {
    const list = around.get(from) ?? [];
    around.set(from, list);
    list.push({ node: to, edge });
  };
  edges.forEach(({ from, to }, edge) => {
    link(from, to, edge);
    link(to, from, edge);
  });
  const order = new Map<number, number>();
  const lowest = new Map<number, number>();
  const bridges = new Set<number>();
  for (const root of around.keys()) {
    if (order.has(root)) continue;
    order.set(root, order.size);
    lowest.set(root, order.size - 1);
    const path = [{ node: root, by: -1, next: 0 }];
    while (path.length > 0) {
      const at = path[path.length - 1] as (typeof path)[number];
      const step = around.get(at.node)?.[at.next++];
      if (step === undefined) {
        path.pop();
        const parent = path[path.length - 1];
        if (parent === undefined) continue;
        const low = lowest.get(at.node) as number;
        if (low > (order.get(parent.node) as number)) bridges.add(at.by);
        lowest.set(parent.node, Math.min(lowest.get(parent.node) as number, low));
      } else if (step.edge !== at.by) {
        const seen = order.get(step.node);
        if (seen === undefined) {
          order.set(step.node, order.size);
          lowest.set(step.node, order.size - 1);
          path.push({ node: step.node, by: step.edge, next: 0 });
        } else lowest.set(at.node, Math.min(lowest.get(at.node) as number, seen));
      }
    }
  }
  return bridges;
}
