import { formatCount } from '@soakbench/core/measure';
import type { BuildSummary } from '../api/build-api.js';

/** A build's row in words; times stand in the reader's own time zone, written so that no country can misread them. */
export function presentBuildRow(row: BuildSummary): { readonly runs: string; readonly changed: string } {
  const at = new Date(row.updatedAt);
  const day = at.toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
  const time = at.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  const runs = row.runs === 0 ? 'no runs yet' : formatCount(row.runs, 'run');
  return { runs: row.isReadable ? runs : 'cannot be read', changed: `${day}, ${time}` };
}
