// @ts-check
/** Links in the documentation lead to files that exist. */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/**
 * @param {ReadonlyArray<{ file: string, text: string }>} pages Markdown, with paths from the top of the repository
 * @param {string} root
 * @returns {string[]} one sentence for each fault
 */
export function findLinkFaults(pages, root) {
  return pages.flatMap(({ file, text }) =>
    [...text.matchAll(/\]\(([^)\s]+)\)/g)]
      .map((match) => (match[1] ?? '').replace(/#.*$/, ''))
      .filter((target) => target !== '' && !/^[a-z]+:/.test(target))
      .filter((target) => !existsSync(join(root, dirname(file), target)))
      .map((target) => `${file} links to ${target}, which does not exist.`),
  );
}
