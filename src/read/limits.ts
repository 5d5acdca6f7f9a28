/**
 * What a file may grow to while it is unpacked. Far above any survey, and low enough that a file made to exhaust the
 * computer is refused before it does. Our choice, no source.
 */
export interface Limits {
  /** Bytes of an archive, a workbook or a compressed file as it lies on the disk. */
  readonly packedBytes: number;
  /** Bytes of all its parts together, both as it declares them and as they come out. */
  readonly unpackedBytes: number;
  /** Bytes of one part of a workbook: its texts, or one sheet. */
  readonly partBytes: number;
  /** Times its packed size that a file may grow to, once it is above `unpackedAtEase`: texts of surveys grow to 50 at most. */
  readonly growth: number;
  /** Bytes that any file may unpack to, however small it is packed. */
  readonly unpackedAtEase: number;
  /** Files inside an archive. */
  readonly entries: number;
  /** Tables of an archive or folder: each is held against each other one to find its parent. */
  readonly tables: number;
  /** Cells kept in memory, at four bytes each. */
  readonly cells: number;
  /** Distinct texts of a workbook; of a sheet, cells merged and formulas without a value. */
  readonly texts: number;
  /** Cells of a sheet, those that a row leaves out before its last cell included. */
  readonly sheetCells: number;
  /** Rows of a workbook's sheet, and its columns: the limits of the format itself (ECMA-376 Part 1). From memory. */
  readonly sheetRows: number;
  readonly sheetColumns: number;
}

export const usualLimits: Limits = {
  packedBytes: 500_000_000,
  unpackedBytes: 1_500_000_000,
  partBytes: 500_000_000,
  growth: 100,
  unpackedAtEase: 20_000_000,
  entries: 10_000,
  tables: 500,
  cells: 250_000_000,
  texts: 2_000_000,
  sheetCells: 50_000_000,
  sheetRows: 1_048_576,
  sheetColumns: 16_384,
};

/** The most bytes that so many packed ones may unpack to. */
export function mostUnpacked(packed: number, { growth, unpackedAtEase, unpackedBytes }: Limits): number {
  return Math.min(unpackedBytes, Math.max(unpackedAtEase, packed * growth));
}
