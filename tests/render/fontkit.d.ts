/** The part of fontkit that the tests use; the package has no types of its own. */
declare module "fontkit" {
  export interface Font {
    readonly unitsPerEm: number;
    readonly characterSet: readonly number[];
    glyphForCodePoint(point: number): { readonly advanceWidth: number };
  }
  export function create(bytes: Uint8Array): Font;
}
