import { acrossAxis } from "./axes.js";
import { bandMarks, lineMarks, rowBandMarks } from "./dot-background.js";
import { layoutOf } from "./dot-layout.js";
import { columnMarks, dotMarks, signMarks, textMarks } from "./dot-marks.js";
import type { DotPicture } from "./dot-picture.js";
import { type Picture, together } from "./picture.js";
import { theme } from "./theme.js";

export type { DotBand, DotPicture, DotRow } from "./dot-picture.js";

/** Rows of dots with intervals on class bands or beside marked values: names at the left, figures in columns at the right. */
export function dotRows(picture: DotPicture): Picture {
  const layout = layoutOf(picture);
  const frame = { x: 0, y: 0, width: layout.plot, height: layout.height };
  // The name stands below the middle of the frame and may reach as far to both sides as there is room to the nearer one.
  const titleWidth = layout.plot + 2 * Math.min(layout.labelWidth, theme.width - 10 - layout.labelWidth - layout.plot);
  return {
    width: layout.plot,
    height: layout.height,
    marks: together([
      acrossAxis(frame, { ...picture.axis, titleWidth }),
      bandMarks(picture, layout),
      rowBandMarks(picture, layout),
      lineMarks(picture, layout),
      textMarks(layout),
      columnMarks(picture, layout),
      dotMarks(layout),
      layout.sign ? signMarks(layout) : {},
    ]),
  };
}
