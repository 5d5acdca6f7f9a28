import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import { withoutRepeats } from "../duplicates.js";
import type { RepairFile } from "./repair.js";

/** Records of a cluster that repeat an earlier one in everything measured, counted once. */
export const repeats: RepairFile = (world) => {
  const kept = withoutRepeats(world.children);
  if (!kept.includes(0)) return [];
  return [
    {
      id: "records/repeats",
      label: message("scenario.duplicates.once"),
      checks: ["duplicate-rows"],
      team: null,
      touched: Uint8Array.from(kept, (one) => 1 - one),
      apply: (drawn) => {
        drawn.counted = drawn.counted === null ? kept : drawn.counted.map((one, i) => one & (kept[i] as number));
      },
    },
  ];
};

/**
 * Children recorded in the other position than their age asks for: in each draw a share of them, anything between none and
 * all, was measured as the standard wants it and only recorded wrong. Where the check finds nothing unusual the records stand.
 */
export const positions: RepairFile = (world) => {
  const { position, positionWanted } = world.children;
  const reading = world.checks.get("measuring-position")?.reading;
  if (position === null || reading === undefined || !isConcern(reading)) return [];
  const isOther = Uint8Array.from(positionWanted, (wanted, i) => {
    const code = position[i] ?? 0;
    return code !== 0 && wanted !== 0 && code !== wanted ? 1 : 0;
  });
  if (!isOther.includes(1)) return [];
  return [
    {
      id: "records/positions",
      label: message("repair.positions"),
      checks: ["measuring-position"],
      team: null,
      touched: isOther,
      apply: (drawn, _, random) => {
        const share = random.uniform();
        const recorded = Uint8Array.from(position, (code, i) => {
          const put = isOther[i] === 1 && random.uniform() < share;
          return put ? (positionWanted[i] as number) : code;
        });
        drawn.columns = { ...drawn.columns, position: recorded };
      },
    },
  ];
};
