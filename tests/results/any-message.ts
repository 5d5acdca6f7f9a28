import type { Message, MessageValue } from "../../src/results/schema.js";

/** A message whose id is worked out, or is in the words of a test alone. */
export const anyMessage = (id: string, values: Readonly<Record<string, MessageValue>> = {}): Message => ({
  id,
  values,
});
