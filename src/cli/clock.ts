import { message } from "../results/message.js";
import { UsageError } from "./usage-error.js";

/** The last day that an ISO date with four digits for the year can name, in seconds since 1970. */
const lastSecond = 253_402_300_799;

function fromOption(option: string): string {
  const parsed = new Date(`${option}T00:00:00Z`);
  const real = /^\d{4}-\d{2}-\d{2}$/.test(option) && !Number.isNaN(parsed.getTime());
  if (!real || parsed.toISOString().slice(0, 10) !== option) {
    throw new UsageError(message("cli.usage.date", { value: option }));
  }
  return option;
}

/**
 * The day a report carries, as an ISO date: `--date`, else SOURCE_DATE_EPOCH (seconds since 1970, as reproducible builds
 * use it; a malformed one is refused, as its specification asks), else null: then the last interview day is taken. The
 * clock of the machine is never read, so that the same input gives the same bytes.
 */
export function reportDate(
  option: string | undefined,
  environment: Readonly<Record<string, string | undefined>>,
): string | null {
  if (option !== undefined) return fromOption(option);
  const epoch = environment.SOURCE_DATE_EPOCH ?? "";
  if (epoch === "") return null;
  if (!/^\d+$/.test(epoch) || Number(epoch) > lastSecond) {
    throw new UsageError(message("cli.usage.epoch", { value: epoch }));
  }
  return new Date(Number(epoch) * 1000).toISOString().slice(0, 10);
}
