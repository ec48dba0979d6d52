import { buildsHref } from '../router.js';

/** The name of the program: a pack between two shells. It leads to the list of builds. */
export function Mark() {
  return (
    <a class="mark" href={buildsHref}>
      <svg width="26" height="18" viewBox="0 0 26 18" aria-hidden="true">
        <path class="line" d="M1 2.5h24M1 15.5h24M6 5.2v1.6M13 4.4v2.4M20 5.2v1.6" />
        <path class="core" d="M1 9h24" />
      </svg>
      Soakbench<span class="vh">, all builds</span>
    </a>
  );
}
