const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/**
 * Watches for the wish to end. Before `asked` is called there is nothing to close, and later than the first wish there is
 * nothing left to wait for: then the process ends at once. The store bears it; its writes are all or nothing.
 */
export function awaitEnd(): { asked(): Promise<void> } {
  let onEnd: () => void = () => process.exit(0);
  for (const signal of signals) {
    process.on(signal, () => {
      const act = onEnd;
      onEnd = () => process.exit(0);
      act();
    });
  }
  return {
    asked: () =>
      new Promise<void>((resolve) => {
        onEnd = resolve;
      }),
  };
}
