import type { ImportReport } from './run-result.js';

/** Begins the reason of every row that is not on the time axis at all. Other reasons concern cells of rows that are. */
export const leftOut = 'row left out: ';

/** Lines named one by one; the rest are counted. */
export const namedLines = 20;

/** Counts what could not be read, by reason, one count per row and reason. */
export class UnreadTally {
  private readonly byReason = new Map<
    string,
    { label: string; count: number; firstLine: number; lastLine: number; lines: number[] }
  >();
  /** Rows that are not on the time axis. */
  rowsLeftOut = 0;

  leaveOut(reason: string, line: number): void {
    this.rowsLeftOut++;
    this.count(leftOut + reason, line);
  }

  /** @param label the words for the report, where they hold an example that the reason itself leaves out */
  count(reason: string, line: number, label: () => string = () => reason): void {
    const entry = this.byReason.get(reason);
    if (entry === undefined)
      this.byReason.set(reason, {
        label: label(),
        count: 1,
        firstLine: line,
        lastLine: line,
        lines: [line],
      });
    else if (entry.lastLine !== line) {
      entry.count++;
      if (entry.lines.length < namedLines) entry.lines.push(line);
      entry.lastLine = line;
    }
  }

  list(): ImportReport['unread'] {
    return [...this.byReason.values()].map(({ label, count, firstLine, lines }) => ({
      reason: label,
      count,
      firstLine,
      lines,
    }));
  }
}
