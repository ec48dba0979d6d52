import { type BuildFolder, hashLog } from '@soakbench/store';

/**
 * A name in `logs/` for a log: its own, or with a number where another log bears it. Loggers often call every log alike.
 * A log that lies in `logs/` already, put there by hand, keeps its place.
 */
export function chooseFileName({ logFiles, piecesOf }: BuildFolder, name: string, sha256: string): string {
  const isFree = (candidate: string) => {
    // Some disks take two names that differ in case for one.
    const there = logFiles.find((file) => file.toLowerCase() === candidate.toLowerCase());
    if (there === undefined) return true;
    const log = piecesOf(there);
    return there === candidate && log !== undefined && hashLog(log) === sha256;
  };
  if (isFree(name)) return name;
  const dot = name.lastIndexOf('.');
  const [stem, ending] = dot > 0 ? [name.slice(0, dot), name.slice(dot)] : [name, ''];
  let count = 2;
  while (!isFree(`${stem}-${count}${ending}`)) count += 1;
  return `${stem}-${count}${ending}`;
}
