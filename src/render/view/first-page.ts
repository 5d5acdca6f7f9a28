/** Letters that a printed line of each part of the first page holds, about; and the height of its lines in lines of small print. */
const parts = {
  title: { letters: 62, height: 2 },
  lead: { letters: 92, height: 1.27 },
  paragraph: { letters: 128, height: 1.05 },
  finding: { letters: 108, height: 1 },
  step: { letters: 124, height: 1 },
} as const;

/** Lines of small print that title, sentences, findings and steps may take on a page that also has the figure. */
const room = 27;
/** What the figure takes, when there is one. */
const figureHeight = 13;
/** So many of each are shown whatever the room, and no more than so many. */
const fewest = { findings: 2, steps: 2 };
const most = { findings: 5, steps: 4 };

const heightOf = (part: keyof typeof parts, text: string): number =>
  Math.max(1, Math.ceil(text.length / parts[part].letters)) * parts[part].height;

export interface FirstPage {
  readonly title: string;
  readonly lead: string;
  readonly paragraphs: readonly string[];
  readonly hasFigure: boolean;
  readonly findings: readonly string[];
  readonly steps: readonly string[];
}

/**
 * How many findings and steps the first printed page has room for, by the length of everything on it; the rest stands in its
 * section. Findings and steps are added in turn, the most serious first.
 */
export function fitting(page: FirstPage): { readonly findings: number; readonly steps: number } {
  const fixed = [
    heightOf("title", page.title),
    heightOf("lead", page.lead),
    ...page.paragraphs.map((text) => heightOf("paragraph", text)),
    page.hasFigure ? figureHeight : 0,
  ];
  let left = room + figureHeight - fixed.reduce((sum, height) => sum + height, 0);
  const taken = { findings: 0, steps: 0 };
  const take = (kind: "findings" | "steps", height: number): boolean => {
    if (taken[kind] >= fewest[kind] && height > left) return false;
    taken[kind] += 1;
    left -= height;
    return true;
  };
  const waiting = { findings: true, steps: true };
  while (waiting.findings || waiting.steps) {
    const finding = page.findings[taken.findings];
    const step = page.steps[taken.steps];
    // A finding has a rule under it.
    waiting.findings &&=
      taken.findings < most.findings && finding !== undefined && take("findings", heightOf("finding", finding) + 0.25);
    waiting.steps &&= taken.steps < most.steps && step !== undefined && take("steps", heightOf("step", step));
  }
  return taken;
}
