/** The measurement at z standard deviations on the plain LMS curve: m (1 + l s z)^(1/l); m exp(s z) for l = 0. */
function plainValueAt(z: number, l: number, m: number, s: number): number {
  return l === 0 ? m * Math.exp(s * z) : m * Math.exp(Math.log1p(l * s * z) / l);
}

/** Beyond this many standard deviations the restricted form takes over. */
const restrictedFrom = 3;

/**
 * z-score of a measurement y by the LMS method:
 *
 *   z = ((y/m)^l - 1) / (l s);  z = ln(y/m) / s for l = 0
 *
 * Where `restricted`, a z beyond -3 or +3 is instead counted in steps as wide as the one between 2 and 3 standard
 * deviations, SDk = m (1 + l s k)^(1/l):
 *
 *   z < -3:  -3 + (y - SD(-3)) / (SD(-2) - SD(-3))
 *   z > +3:  +3 + (y - SD(+3)) / (SD(+3) - SD(+2))
 *
 * With l = 1 both forms agree. NaN unless y > 0.
 *
 * LMS: Cole and Green, Statistics in Medicine 1992;11:1305-19. Restriction: WHO Child Growth Standards, methods and
 * development, 2006, chapter 7 (arm circumference: 2007, chapter 7).
 */
export function zScore(y: number, l: number, m: number, s: number, restricted: boolean): number {
  if (!(y > 0)) return Number.NaN;
  if (l === 1) return (y / m - 1) / s;
  const logRatio = Math.log(y / m);
  // expm1 keeps its precision for an l close to 0, as interpolation can make one.
  const z = l === 0 ? logRatio / s : Math.expm1(l * logRatio) / (l * s);
  if (!restricted) return z;
  if (z < -restrictedFrom) {
    const third = plainValueAt(-3, l, m, s);
    return -restrictedFrom + (y - third) / (plainValueAt(-2, l, m, s) - third);
  }
  if (z > restrictedFrom) {
    const third = plainValueAt(3, l, m, s);
    return restrictedFrom + (y - third) / (third - plainValueAt(2, l, m, s));
  }
  return z;
}

/**
 * The measurement at a z-score: the inverse of `zScore`, in the same two forms. NaN where the curve has no such value
 * (plain form, 1 + l s z <= 0); the restricted form can fall below 0 far out.
 */
export function valueAtZ(z: number, l: number, m: number, s: number, restricted: boolean): number {
  if (l === 1) return m * (1 + s * z);
  if (restricted && z < -restrictedFrom) {
    const third = plainValueAt(-3, l, m, s);
    return third + (z + restrictedFrom) * (plainValueAt(-2, l, m, s) - third);
  }
  if (restricted && z > restrictedFrom) {
    const third = plainValueAt(3, l, m, s);
    return third + (z - restrictedFrom) * (third - plainValueAt(2, l, m, s));
  }
  return plainValueAt(z, l, m, s);
}
