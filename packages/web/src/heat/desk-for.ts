import { signal } from '@preact/signals';
import { HeatDesk } from './heat-desk.js';

/** One desk at a time: a model holds a hundred megabytes, and nobody drags in two builds at once. */
let open: { readonly build: string; readonly desk: HeatDesk } | null = null;

/** Counts desks, so that what watches them hears of a new one. */
const opened = signal(0);

/** The desk of a build. It goes on calibrating when its page is left. */
export function deskFor(build: string): HeatDesk {
  if (open?.build === build) return open.desk;
  open?.desk.close();
  open = { build, desk: new HeatDesk() };
  queueMicrotask(() => {
    opened.value += 1;
  });
  return open.desk;
}

/** The desk of a build where one is open. */
export function openDesk(build: string): HeatDesk | null {
  void opened.value;
  return open?.build === build ? open.desk : null;
}
