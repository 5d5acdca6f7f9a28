import { ageGroups } from "./age-groups/index.js";
import { ageHeaping } from "./age-heaping/index.js";
import { armDigits } from "./arm-digits/index.js";
import { clustersDiffer } from "./clusters-differ/index.js";
import { clustersReached } from "./clusters-reached/index.js";
import { designKnown } from "./design-known/index.js";
import { duplicateRows } from "./duplicate-rows/index.js";
import { entryOrder } from "./entry-order/index.js";
import { heightDigits } from "./height-digits/index.js";
import { householdsReached } from "./households-reached/index.js";
import { implausibleValues } from "./implausible-values/index.js";
import { measuringPosition } from "./measuring-position/index.js";
import { missingValues } from "./missing-values/index.js";
import type { AnyCheck } from "./run.js";
import { samplingWeights } from "./sampling-weights/index.js";
import { sexBalance } from "./sex-balance/index.js";
import { shape } from "./shape/index.js";
import { spread } from "./spread/index.js";
import { teamsDiffer } from "./teams-differ/index.js";
import { weightDigits } from "./weight-digits/index.js";
import { youngerOlderRatio } from "./younger-older-ratio/index.js";

/** Every check, in the order of the report: who was measured, how, what came out, where differences lie. */
export const checks: readonly AnyCheck[] = [
  clustersReached,
  householdsReached,
  designKnown,
  samplingWeights,
  missingValues,
  duplicateRows,
  sexBalance,
  ageGroups,
  youngerOlderRatio,
  ageHeaping,
  weightDigits,
  heightDigits,
  armDigits,
  measuringPosition,
  entryOrder,
  implausibleValues,
  spread,
  shape,
  clustersDiffer,
  teamsDiffer,
];
