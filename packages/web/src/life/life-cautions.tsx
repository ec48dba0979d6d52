import { lifeCautions } from '@soakbench/core/life';

/** What no figure on the page may be read without. */
export function LifeCautions() {
  return (
    <section class="part">
      <h2>Facts and cautions</h2>
      <ul class="plainlist">
        {lifeCautions.map((caution, index) => (
          <li key={caution}>
            {index === 0 ? (
              <span class="caution stop block">
                <b>Stop.</b> {caution}
              </span>
            ) : (
              caution
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
