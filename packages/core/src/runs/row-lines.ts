/**
 * The line of each row in the file, as stretches in which the lines count up with the rows.
 *
 * Most logs are one stretch, or a few about the lines that are no row, so millions of rows cost a few numbers.
 */
export class RowLines {
  /** The first row of each stretch, and what its rows are behind their lines. */
  private readonly firstRows: number[] = [];
  private readonly behind: number[] = [];

  /** Says in which line `row` stands. Rows come in rising order; those between two named ones follow the first line by line. */
  note(row: number, line: number): void {
    if (this.behind.at(-1) === line - row) return;
    this.firstRows.push(row);
    this.behind.push(line - row);
  }

  /** The line of a row, counted from 1; NaN before the first row that was named. */
  at(row: number): number {
    const { firstRows, behind } = this;
    let low = -1;
    let high = firstRows.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((firstRows[middle] as number) <= row) low = middle;
      else high = middle;
    }
    return low < 0 ? Number.NaN : row + (behind[low] as number);
  }

  /** The lines of rows that are put in another order: row `order[k]` becomes row k. */
  arranged(order: readonly number[]): RowLines {
    const sorted = new RowLines();
    for (const [place, row] of order.entries()) sorted.note(place, this.at(row));
    return sorted;
  }
}
