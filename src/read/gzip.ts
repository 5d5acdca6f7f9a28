import { gunzipSync } from "node:zlib";
import { brokenFile, refuseLarge } from "./archive.js";
import { type Limits, mostUnpacked } from "./limits.js";
import { InputError, inputProblem } from "./problem.js";

/** The bytes inside a gzip file. Throws InputError where it is cut off, damaged, or unpacks beyond the limit. */
export function unpackGzip(bytes: Uint8Array, place: string, limits: Limits): Uint8Array {
  refuseLarge(bytes, place, limits);
  const limit = mostUnpacked(bytes.length, limits);
  try {
    return gunzipSync(bytes, { maxOutputLength: limit });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ERR_BUFFER_TOO_LARGE") throw brokenFile(place, "gzip");
    const details = { what: "unpacked", limit };
    throw new InputError([inputProblem("file-too-large", place, { details })]);
  }
}
