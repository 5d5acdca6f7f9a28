/**
 * The day a report carries, as an ISO date: `--date`, else SOURCE_DATE_EPOCH (seconds since 1970, as reproducible builds
 * use it), else null: then the last interview day is taken. The clock of the machine is never read, so that the same
 * input gives the same bytes.
 */
export function reportDate(
  option: string | undefined,
  environment: Readonly<Record<string, string | undefined>>,
): string | null {
  if (option !== undefined) {
    const parsed = new Date(`${option}T00:00:00Z`);
    const real = /^\d{4}-\d{2}-\d{2}$/.test(option) && !Number.isNaN(parsed.getTime());
    if (!real || parsed.toISOString().slice(0, 10) !== option) {
      throw new UsageError(`--date ${option} is not a day. Write it as year-month-day, for example 2026-03-31.`);
    }
    return option;
  }
  const epoch = environment.SOURCE_DATE_EPOCH;
  if (epoch === undefined || !/^\d+$/.test(epoch)) return null;
  return new Date(Number(epoch) * 1000).toISOString().slice(0, 10);
}

/** A call that cannot be carried out as written: exit code 2. */
export class UsageError extends Error {}
