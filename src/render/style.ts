import { cssString, OwnMarkup } from "./markup.js";
import { templateBytes, templateText } from "./templates.js";

/** What the further faces are cut to (tests/tools/fonts/subset.py): a page without such letters never unpacks them. */
const letters = "U+180-2AF,U+300-36F,U+1E00-1EFF";
const arabic = "U+600-6FF,U+750-77F,U+8A0-8FF,U+200C-200F,U+2066-2069";

interface Face {
  readonly family: string;
  readonly file: string;
  readonly weight: number;
  readonly style: string;
  /** Signs the browser may take from it; all where absent. */
  readonly range?: string;
}

const faces: readonly Face[] = [
  { family: "Tareline Sans", file: "sans-400", weight: 400, style: "normal" },
  { family: "Tareline Sans", file: "sans-600", weight: 600, style: "normal" },
  {
    family: "Tareline Sans",
    file: "sans-400-italic",
    weight: 400,
    style: "italic",
  },
  { family: "Tareline Serif", file: "serif-400", weight: 400, style: "normal" },
  { family: "Tareline Serif", file: "serif-600", weight: 600, style: "normal" },
  { family: "Tareline Letters", file: "letters-400", weight: 400, style: "normal", range: letters },
  { family: "Tareline Letters", file: "letters-600", weight: 600, style: "normal", range: letters },
  { family: "Tareline Arabic", file: "arabic-400", weight: 400, style: "normal", range: arabic },
  { family: "Tareline Arabic", file: "arabic-600", weight: 600, style: "normal", range: arabic },
];

/** The embedded faces: without them a machine that has no fonts prints no text at all. */
function fontFaces(): string {
  return faces
    .map(({ family, file, weight, style, range }) => {
      const data = templateBytes(`style/fonts/${file}.woff2`).toString("base64");
      const only = range === undefined ? "" : `;unicode-range:${range}`;
      return `@font-face{font-family:"${family}";font-weight:${weight};font-style:${style};font-display:block;src:url(data:font/woff2;base64,${data}) format("woff2")${only}}`;
    })
    .join("\n");
}

const otherSide: Readonly<Record<string, string>> = { left: "right", right: "left" };

/** The margins' boxes go by sides of the paper, not of the writing: from right to left they change places. */
function marginsFor(direction: "ltr" | "rtl"): string {
  const sheet = templateText("style/margins.css");
  if (direction === "ltr") return sheet;
  return sheet.replace(/@(top|bottom)-(left|right)/g, (_, edge: string, side: string) => `@${edge}-${otherSide[side]}`);
}

/** The whole style sheet, with the survey's title and a foot line for the margins of the printed pages. */
export function styleSheet(title: string, foot: string, direction: "ltr" | "rtl"): OwnMarkup {
  const margins = marginsFor(direction)
    .replace('"{title}"', () => cssString(title))
    .replace('"{foot}"', () => cssString(foot));
  const sheets = ["tokens", "screen", "print"].map((name) => templateText(`style/${name}.css`));
  return new OwnMarkup([fontFaces(), ...sheets, margins].join("\n"));
}
