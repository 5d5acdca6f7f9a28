/** The part of saxen that is used here; the package brings no types of its own. */
declare module "saxen" {
  export class Parser {
    on(
      name: "openTag",
      hook: (name: string, attributes: () => Record<string, string> | null, decode: (text: string) => string) => void,
    ): this;
    on(name: "closeTag", hook: (name: string) => void): this;
    on(name: "text", hook: (text: string, decode: (text: string) => string) => void): this;
    on(name: "cdata", hook: (text: string) => void): this;
    on(name: "error", hook: (error: Error) => void): this;
    write(chunk: string): this;
    end(): unknown;
  }
}
