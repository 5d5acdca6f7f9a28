import { bookOf, expendable } from "../disclosure/book.js";
import type { GroupId } from "../results/group.js";
import type { Headline, World } from "./scenario.js";

/** Everybody in the estimate's denominator. */
export const wholeOf = ({ children }: World, { estimate, published }: Headline): GroupId =>
  bookOf(children).subject(estimate.id, published.speaks.members, { aboutHealth: true, rank: expendable.main }).whole;
