import { type Frame, heightIn, type Marks } from "./picture.js";
import { theme } from "./theme.js";

/** A value with its interval in a small frame. */
export interface SmallPoint {
  /** Place across, px. */
  readonly x: number;
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Drawn hollow: few children. */
  readonly hollow: boolean;
}

/** Points of one place from the first to the last. */
export interface SmallSeries {
  readonly frame: Frame;
  readonly points: readonly SmallPoint[];
  /** A clear change stands in blue, any other in grey. */
  readonly strong: boolean;
}

/** All series of a picture: upright intervals joined by a thin line through the values. */
export function seriesMarks(
  series: readonly SmallSeries[],
  domain: readonly [number, number],
  size: number,
): Partial<Marks> {
  const { palette } = theme;
  const placed = series.map(({ frame, points: own, strong }) =>
    own.map((point) => ({
      x: point.x,
      y: heightIn(frame, domain, point.value),
      top: heightIn(frame, domain, point.high ?? point.value),
      bottom: heightIn(frame, domain, point.low ?? point.value),
      stroke: strong ? palette.blue : palette.quiet,
      fill: point.hollow ? palette.paper : strong ? palette.blue : palette.quiet,
    })),
  );
  const all = placed.flat();
  const joined = placed.flatMap((own) =>
    own.slice(1).map(({ x, y, stroke }, i) => ({ x, y, x2: own[i]?.x ?? x, y2: own[i]?.y ?? y, stroke, width: 0.9 })),
  );
  return {
    rules: [
      ...joined,
      ...all.map(({ x, top, bottom, stroke }) => ({ x, y: top, x2: x, y2: bottom, stroke, width: 1.8 })),
    ],
    points: all.map(({ x, y, fill, stroke }) => ({ x, y, fill, stroke, shape: "circle", size, width: 1.5 })),
  };
}
