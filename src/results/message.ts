import type { MessageId } from "./message-ids.js";
import type { Message, MessageValue } from "./schema.js";

type Values = Readonly<Record<string, MessageValue>>;

/**
 * What may stand as an id: one that has words, or a pattern with an open part (`estimate.${string}`, from a stored result) that fits
 * at least one of them.
 */
type Known<Id extends string> = Id extends MessageId
  ? Id
  : string extends Id
    ? never
    : [Extract<MessageId, Id>] extends [never]
      ? never
      : Id;

/** What is written behind an id: its values, or, where an id has no words, what no call can give. */
export type ValuesOf<Id extends string> = [Id] extends [Known<Id>]
  ? [values?: Values]
  : [hasNoWords: never, id: Exclude<Id, Known<Id>>];

/** Shorthand for a message id with its raw values. An id without words does not compile. */
export function message<Id extends string>(id: Id, ...[values = {}]: ValuesOf<Id>): Message {
  return { id, values };
}
