import { cssString, OwnMarkup } from "./markup.js";
import { templateBytes, templateText } from "./templates.js";

const faces = [
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
  { family: "Tareline Letters", file: "letters-400", weight: 400, style: "normal" },
  { family: "Tareline Letters", file: "letters-600", weight: 600, style: "normal" },
  { family: "Tareline Arabic", file: "arabic-400", weight: 400, style: "normal" },
  { family: "Tareline Arabic", file: "arabic-600", weight: 600, style: "normal" },
] as const;

/** The embedded faces: without them a machine that has no fonts prints no text at all. */
function fontFaces(): string {
  return faces
    .map(({ family, file, weight, style }) => {
      const data = templateBytes(`style/fonts/${file}.woff2`).toString("base64");
      return `@font-face{font-family:"${family}";font-weight:${weight};font-style:${style};font-display:block;src:url(data:font/woff2;base64,${data}) format("woff2")}`;
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
