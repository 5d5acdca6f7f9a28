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

/** The whole style sheet, with the survey's title and a foot line for the margins of the printed pages. */
export function styleSheet(title: string, foot: string): OwnMarkup {
  const margins = templateText("style/margins.css")
    .replace('"{title}"', () => cssString(title))
    .replace('"{foot}"', () => cssString(foot));
  const sheets = ["tokens", "screen", "print"].map((name) => templateText(`style/${name}.css`));
  return new OwnMarkup([fontFaces(), ...sheets, margins].join("\n"));
}
