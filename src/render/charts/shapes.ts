/** Outlines of marks as paths in a square from -1 to 1, as the grammar takes them. */
const disc = "M0,-1A1,1,0,1,1,0,1A1,1,0,1,1,0,-1Z";
const hole = "M0,-.76A.76,.76,0,1,0,0,.76A.76,.76,0,1,0,0,-.76Z";
/** The right half is left open. */
const rightHalf = "M0,-.76V.76A.76,.76,0,0,0,0,-.76Z";

export const shapes = {
  box: "M-1,-.8H1V.8H-1Z",
  line: "M-1.5,0H1.5",
  dashes: "M-1.5,0H-.8M-.35,0H.35M.8,0H1.5",
  dotOnLine: "M-1.8,0H-.8M.8,0H1.8M.8,0A.8,.8,0,1,1,-.8,0A.8,.8,0,1,1,.8,0Z",
  diamondOnLine: "M-1.8,0H-.8M.8,0H1.8M0,-1L.8,0L0,1L-.8,0Z",
  bracket: "M-1.5,-.6V.6M-1.5,0H1.5M1.5,-.6V.6",
  underline: "M-1,.2H1V.6H-1Z",
  /** The signs of the readings: open, half and full circle, and a dash. */
  expected: `${disc}${hole}`,
  explain: `${disc}${rightHalf}`,
  doubt: disc,
  unknown: "M-1,-.14H1V.14H-1Z",
} as const;
