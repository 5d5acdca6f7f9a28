import { ageGroups } from "./age-groups.js";
import { ageHeaping } from "./age-heaping.js";
import { armDigits } from "./arm-digits.js";
import { clustersDiffer } from "./clusters-differ.js";
import { clustersReached } from "./clusters-reached.js";
import { duplicateRows } from "./duplicate-rows.js";
import { entryOrder } from "./entry-order.js";
import { heightDigits } from "./height-digits.js";
import { householdsReached } from "./households-reached.js";
import { implausibleValues } from "./implausible-values.js";
import { measuringPosition } from "./measuring-position.js";
import { missingValues } from "./missing-values.js";
import type { AnyCheck } from "./run.js";
import { sexBalance } from "./sex-balance.js";
import { shape } from "./shape.js";
import { spread } from "./spread.js";
import { teamsDiffer } from "./teams-differ.js";
import { weightDigits } from "./weight-digits.js";
import { youngerOlderRatio } from "./younger-older-ratio.js";

/** Every check, in the order of the report: who was measured, how, what came out, where differences lie. */
export const checks: readonly AnyCheck[] = [
  clustersReached,
  householdsReached,
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
