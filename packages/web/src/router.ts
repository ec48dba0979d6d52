import { signal } from '@preact/signals';

export const pageNames = [
  'verdict',
  'probes',
  'runs',
  'compare',
  'heat',
  'life',
  'dossier',
  'build',
] as const;
export type PageName = (typeof pageNames)[number];

export type Route =
  | { readonly at: 'builds' }
  | { readonly at: 'page'; readonly build: string; readonly page: PageName; readonly run?: string }
  | { readonly at: 'nowhere'; readonly hash: string };

/** The place a hash names: `#/`, `#/builds/reedling-r2/runs/run-3`. */
export function readRoute(hash: string): Route {
  const steps = hash
    .replace(/^#?\/?/, '')
    .split('/')
    .filter((step) => step !== '')
    .map(decodeStep);
  if (steps.length === 0) return { at: 'builds' };
  const [root, build, page = 'verdict', run] = steps;
  if (root !== 'builds' || build === undefined || steps.length > 4) return { at: 'nowhere', hash };
  if (!isPage(page) || (run !== undefined && page !== 'runs')) return { at: 'nowhere', hash };
  return run === undefined ? { at: 'page', build, page } : { at: 'page', build, page, run };
}

export function pageHref(build: string, page: PageName, run?: string): string {
  const place = `#/builds/${encodeURIComponent(build)}/${page}`;
  return run === undefined ? place : `${place}/${encodeURIComponent(run)}`;
}

export const buildsHref = '#/';

function isPage(name: string): name is PageName {
  return (pageNames as readonly string[]).includes(name);
}

/** A hash typed by hand may hold a stray per cent sign; it then names itself. */
function decodeStep(step: string): string {
  try {
    return decodeURIComponent(step);
  } catch {
    return step;
  }
}

/** Where the reader is. */
export const route = signal<Route>({ at: 'builds' });

/** The one hash that is no address: it moves the cursor past the navigation and leaves the reader where they are. */
export const skipHref = '#main';

export function followHash(): void {
  let place = location.hash;
  const follow = () => {
    if (location.hash === skipHref) {
      history.replaceState(null, '', place === '' ? '#/' : place);
      return;
    }
    place = location.hash;
    route.value = readRoute(place);
  };
  follow();
  addEventListener('hashchange', follow);
}

export function goTo(href: string): void {
  location.hash = href;
}
