/** Letters that a printed line of each part of the first page holds, about; and the height of its lines in lines of small print. */
const parts = {
  title: { letters: 62, height: 2 },
  lead: { letters: 92, height: 1.27 },
  paragraph: { letters: 128, height: 1.05 },
  finding: { letters: 108, height: 1 },
  step: { letters: 124, height: 1 },
} as const;

/** Lines of small print that all parts with text, the figure and the table may take together. */
const room = 50;
/** What the figure takes, when there is one. */
const figureHeight = 13.5;
/** Height of a printed line of a table, its rule included; lines of its caption and head, and of the rules between its rows. */
const tableLine = 1.15;
const linesOfHead = 3;
/** Cautions stand in three columns of smaller print; each has a little room under it. */
const cautionColumn = { letters: 44, height: 0.9, gap: 0.2, columns: 3 };
/** Letters of a line of the facts under the title, of the figure's title, and of the contents, which stand in three columns. */
const letters = { facts: 105, figureTitle: 105, contents: 34 };
const contentsColumns = 3;
/** So many of each are shown whatever the room, and no more than so many. */
const fewest = { findings: 2, steps: 1, rows: 2 };
const most = { findings: 5, steps: 4 };

const heightOf = (part: keyof typeof parts, text: string): number =>
  Math.max(1, Math.ceil(text.length / parts[part].letters)) * parts[part].height;

export interface FirstPage {
  readonly title: string;
  readonly lead: string;
  readonly paragraphs: readonly string[];
  /** Title of the figure; null where there is none. */
  readonly figure: string | null;
  /** Lines of each row of a table, the most important first; no table when not given. */
  readonly rows?: readonly number[];
  readonly findings: readonly string[];
  readonly steps: readonly string[];
  readonly cautions: readonly string[];
  readonly cover: Cover;
}

/** What stands over the first section: it takes more lines in some languages. */
export interface Cover {
  readonly facts: readonly string[];
  /** Names of the sections. */
  readonly contents: readonly string[];
}

/** How many findings, steps and rows of the table the page shows. */
export interface Fitting {
  readonly findings: number;
  readonly steps: number;
  readonly rows: number;
}

const sum = (heights: readonly number[]): number => heights.reduce((total, height) => total + height, 0);

function cautionsHeight(cautions: readonly string[]): number {
  const { letters, height, gap, columns } = cautionColumn;
  return sum(cautions.map((text) => Math.ceil(text.length / letters) * height + gap)) / columns;
}

/** The facts under the title, and the longest column of the contents. */
function coverHeight({ facts, contents }: Cover): number {
  const lines = sum(contents.map((name) => Math.ceil(name.length / letters.contents)));
  return Math.ceil(facts.join("     ").length / letters.facts) + Math.ceil(lines / contentsColumns);
}

/** The figure, with the lines of its title beyond the first. */
const heightOfFigure = (title: string | null): number =>
  title === null ? 0 : figureHeight + Math.ceil(title.length / letters.figureTitle) - 1;

/** How many rows of the table leave room for the fewest findings and steps. */
function rowsThatFit(rows: readonly number[], left: number): number {
  let count = rows.length;
  const height = (): number => (count === 0 ? 0 : (linesOfHead + sum(rows.slice(0, count))) * tableLine);
  while (count > fewest.rows && height() > left) count -= 1;
  return count;
}

/**
 * How many findings, steps and rows the first printed page has room for, by the length of everything on it; the rest stands
 * in its section. Findings and steps are added in turn, the most serious first.
 */
export function fitting(page: FirstPage): Fitting {
  const fixed = [
    heightOf("title", page.title),
    heightOf("lead", page.lead),
    ...page.paragraphs.map((text) => heightOf("paragraph", text)),
    heightOfFigure(page.figure),
    cautionsHeight(page.cautions),
    coverHeight(page.cover),
  ];
  // A finding has a rule under it.
  const findingHeight = (text: string): number => heightOf("finding", text) + 0.25;
  const stepHeight = (text: string): number => heightOf("step", text);
  const least =
    sum(page.findings.slice(0, fewest.findings).map(findingHeight)) +
    sum(page.steps.slice(0, fewest.steps).map(stepHeight));
  const free = room - sum(fixed);
  const rows = rowsThatFit(page.rows ?? [], free - least);
  const tableHeight = rows === 0 ? 0 : (linesOfHead + sum((page.rows ?? []).slice(0, rows))) * tableLine;
  let left = free - tableHeight;
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
    waiting.findings &&=
      taken.findings < most.findings && finding !== undefined && take("findings", findingHeight(finding));
    waiting.steps &&= taken.steps < most.steps && step !== undefined && take("steps", stepHeight(step));
  }
  return { ...taken, rows };
}
