import type { ComponentChildren } from 'preact';
import { skipHref } from '../router.js';
import { Mark } from './mark.js';

interface PlainFrameProps {
  readonly heading: string;
  readonly children: ComponentChildren;
}

/** A page outside any build: the mark, a rule without stages, and the work. */
export function PlainFrame({ heading, children }: PlainFrameProps) {
  return (
    <div class="page">
      <a class="skip" href={skipHref}>
        Skip to the content
      </a>
      <header>
        <div class="head">
          <Mark />
        </div>
        <div class="plainrule" />
      </header>
      <main id="main" tabIndex={-1}>
        <h1 class="vh">{heading}</h1>
        {children}
      </main>
    </div>
  );
}
