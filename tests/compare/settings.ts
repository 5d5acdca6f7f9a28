import { type CompareSettings, plainSettings } from "../../src/compare/compare-settings.js";

/** Settings without a compare.yaml, except what a test gives. */
export const makeSettings = (given: Partial<CompareSettings> = {}): CompareSettings => ({
  ...plainSettings([], { name: "test", title: "Test", language: "en" }),
  ...given,
});
