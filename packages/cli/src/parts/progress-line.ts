import { notePage } from './output.js';
import { paint, softenBlanks } from './page.js';

/** A line that is gone before it can be read only flickers, ms. @assumed */
export const quiet_ms = 300;

/** One line on standard error that is written over; nothing where that is no terminal, and none beside an answer in JSON. */
export class ProgressLine {
  private shown = '';
  private readonly page = notePage();
  private readonly from_ms: number;

  /** @param after_ms nothing is shown before so long has passed */
  constructor(after_ms = 0) {
    this.from_ms = performance.now() + after_ms;
  }

  tell(share: number, doing: string): void {
    if (process.stderr.isTTY !== true || process.argv.includes('--json')) return;
    if (performance.now() < this.from_ms) return;
    const line = softenBlanks(`${(100 * share).toFixed(0).padStart(3)} %  ${doing}`).slice(
      0,
      this.page.width,
    );
    if (line === this.shown) return;
    process.stderr.write(`\r\u001b[K${paint(this.page, 'quiet', line)}`);
    this.shown = line;
  }

  clear(): void {
    if (this.shown !== '') process.stderr.write('\r\u001b[K');
    this.shown = '';
  }
}
