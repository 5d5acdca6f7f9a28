import type { Words } from "../words.js";
import { bandMarks, lineMarks, rowBandMarks } from "./dot-background.js";
import { layoutOf } from "./dot-layout.js";
import { columnMarks, dotMarks, signMarks, textMarks } from "./dot-marks.js";
import type { DotPicture } from "./dot-picture.js";
import type { Spec } from "./theme.js";

export type { DotBand, DotPicture, DotRow } from "./dot-picture.js";

/** Rows of dots with intervals on class bands or beside marked values: names at the left, figures in columns at the right. */
export function dotRows(picture: DotPicture, words: Words): Spec {
  const layout = layoutOf(picture);
  const x = {
    scale: { domain: [...picture.domain], nice: false, zero: false },
  };
  const y = {
    scale: {
      domain: [0, layout.height],
      range: [0, layout.height],
      nice: false,
    },
    axis: null,
  };
  return {
    width: layout.plot,
    height: layout.height,
    encoding: {
      x: {
        type: "quantitative",
        ...x,
        axis: {
          ...picture.axis.ticks,
          title: picture.axis.title === "" ? null : picture.axis.title,
          domain: true,
        },
      },
      y: { type: "quantitative", ...y },
    },
    layer: [
      ...bandMarks(picture, layout),
      ...rowBandMarks(picture, layout),
      ...lineMarks(picture, layout),
      ...textMarks(layout),
      ...columnMarks(picture, layout),
      ...dotMarks(layout),
      ...(layout.sign ? signMarks(layout, words) : []),
    ],
  };
}
