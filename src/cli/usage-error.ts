import type { Message } from "../results/schema.js";

/** A call that cannot be carried out as written: exit code 2. `said` tells why and what to do. */
export class UsageError extends Error {
  readonly said: Message;

  constructor(said: Message) {
    super(said.id);
    this.name = "UsageError";
    this.said = said;
  }
}
