import type { Reporter, TestModule } from "vitest/node";

/** Ends a test run with one plain line, 'N passed, N failed', for people and machines that read only the end. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandledErrors.length;
    for (const module of modules) {
      const brokenBeforeAnyTest = module.errors().length > 0;
      if (brokenBeforeAnyTest) failed += 1;
      for (const test of module.children.allTests()) {
        const state = test.result().state;
        if (state === "passed") passed += 1;
        if (state === "failed") failed += 1;
      }
    }
    process.once("exit", () => process.stdout.write(`\n${passed} passed, ${failed} failed\n`));
  }
}
