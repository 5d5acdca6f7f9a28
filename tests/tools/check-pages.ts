import { checks } from "../../src/checks/index.js";
import { exampleResults, explained } from "../../src/cli/explain-command.js";
import { loadWords } from "../../src/render/words.js";

const title = "# The checks\n";
const about =
  "What each check finds, what chance alone gives, which limits are used and where they come from, in the words that\n" +
  "`tareline explain` prints in five languages. The examples are of the invented survey in `sample-input`.\n";

/** The text of docs/checks.md: every check in the order of the report. */
export async function checkPages(): Promise<string> {
  const words = loadWords("en");
  const results = await exampleResults();
  const pages = checks.map((check) => explained(check, results, words));
  return [title, about, ...pages].join("\n");
}
