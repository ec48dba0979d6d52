// @ts-check
/**
 * Prints `N passed, N failed, N skipped` as the very last line, easy for scripts to read. A file that cannot be loaded,
 * a hook that throws and an error outside any test each count as one failure: otherwise the line could look clean
 * while the run was not.
 */
export default class ClosingLineReporter {
  /**
   * @param {ReadonlyArray<import('vitest/node').TestModule>} modules
   * @param {ReadonlyArray<unknown>} strayErrors
   */
  onTestRunEnd(modules, strayErrors) {
    const count = { passed: 0, failed: strayErrors.length, skipped: 0 };
    for (const module of modules) {
      count.failed += Number(module.errors().length > 0);
      for (const suite of module.children.allSuites()) count.failed += Number(suite.errors().length > 0);
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        count[state === 'pending' ? 'skipped' : state] += 1; // Still pending: the run was cut short.
      }
    }
    // At exit, because the runner itself may still have something to say after this.
    process.on('exit', () => {
      process.stdout.write(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped\n`);
    });
  }
}
