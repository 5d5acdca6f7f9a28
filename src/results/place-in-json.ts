/** The key below which a message has keys of its own: those are texts of the file, and are not told. */
const freeKeys = "values";

/** Where in a JSON file something is wrong, in keys of its schema alone, joined by a sign. */
export function placeInJson(path: readonly PropertyKey[], sign: string): string {
  const free = path.indexOf(freeKeys);
  return (free < 0 ? path : path.slice(0, free + 1)).map(String).join(sign);
}
