import type { Message, MessageValue } from "./schema.js";

/** Shorthand for a message id with its raw values. */
export function message(id: string, values: Readonly<Record<string, MessageValue>> = {}): Message {
  return { id, values };
}
