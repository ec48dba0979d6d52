import { Fragment } from 'preact';
import { keepTogether } from '../parts/answer.js';
import { LevelWord } from '../parts/level.js';
import type { MarginGroup } from './present-compare.js';

interface MarginsTableProps {
  readonly groups: readonly MarginGroup[];
  /** The chosen set-up. */
  readonly pick: string | null;
  readonly label?: string;
}

/** Every state with its limit as a heading row, and beneath it each set-up with its margin. */
export function MarginsTable({ groups, pick, label = 'Margins by state and set-up' }: MarginsTableProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="scroll" tabIndex={0} aria-label={label}>
      <table class="margins">
        <thead>
          <tr>
            <th scope="col">set-up</th>
            <th scope="col" class="lo">
              probe
            </th>
            <th scope="col" class="r">
              expected, °C
            </th>
            <th scope="col" class="r">
              margin, K
            </th>
            <th scope="col" class="r lo">
              at least, K
            </th>
            <th scope="col" class="r">
              highest
              <br />
              ambient, °C
            </th>
            <th scope="col">level</th>
          </tr>
        </thead>
        {groups.map((group) => (
          <tbody key={group.key}>
            <tr class="st">
              <th colSpan={7} scope="rowgroup">
                {group.title} <span class="small">{group.limit}</span>
              </th>
            </tr>
            {group.rows.map((row) => (
              <Fragment key={row.setup}>
                <tr class={row.setup === pick ? 'pick' : undefined}>
                  <th scope="row">{row.name}</th>
                  <td class="lo">{row.probe}</td>
                  {row.missing !== null && row.level === 'unknown' ? (
                    <td colSpan={5} class="missing">
                      <LevelWord level={row.level} word={row.word} />
                      <span class="small">{keepTogether(besideWord(row.missing))}</span>
                    </td>
                  ) : (
                    <>
                      <td class="r">{row.expected}</td>
                      <td class="r">{row.margin}</td>
                      <td class="r lo">{row.atLeast}</td>
                      <td class="r">{row.highestAmbient}</td>
                      <td>
                        <LevelWord level={row.level} word={row.word} />
                      </td>
                    </>
                  )}
                </tr>
              </Fragment>
            ))}
          </tbody>
        ))}
      </table>
    </section>
  );
}

/** What a reason adds to the word "not measured" beside it: "; without the charge’s own heat its cells reach 39.6 °C", or nothing. */
function besideWord(missing: string): string {
  const [told, ...rest] = missing.split('; ');
  if (told === undefined || !/ was not (measured|predicted) with this set-up$/.test(told))
    return `: ${missing}`;
  return rest.length === 0 ? '' : `; ${rest.join('; ')}`;
}
