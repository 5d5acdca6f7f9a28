/** A file to write into the folder of sample input. */
export interface ExampleFile {
  /** Path below that folder, with forward slashes. */
  readonly name: string;
  readonly content: string;
}
