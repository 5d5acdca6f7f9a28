import type { Message } from "../../results/schema.js";

/** Why there is no PDF. The report's other files do not depend on it. */
export type PdfProblemKind = "cannot-start" | "sandbox-refused" | "stopped" | "timed-out" | "empty";

/** Thrown by `printPdfs`; `said` is the sentence for the reader. */
export class PdfProblem extends Error {
  readonly kind: PdfProblemKind;
  readonly said: Message;

  constructor(kind: PdfProblemKind, said: Message, options?: ErrorOptions) {
    super(said.id, options);
    this.name = "PdfProblem";
    this.kind = kind;
    this.said = said;
  }
}
