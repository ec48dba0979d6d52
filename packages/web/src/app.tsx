import { BuildFrame } from './build-frame.js';
import { BuildsPage } from './builds/builds-page.js';
import { FailedFace } from './parts/faces.js';
import { PlainFrame } from './parts/plain-frame.js';
import { buildsHref, route } from './router.js';

/** One place at a time, named by the hash. */
export function App() {
  const place = route.value;
  if (place.at === 'builds') return <BuildsPage />;
  if (place.at === 'page')
    return <BuildFrame key={place.build} id={place.build} page={place.page} run={place.run} />;
  return (
    <PlainFrame heading="No such page">
      <FailedFace
        title="There is no page here."
        faults={[
          {
            where: place.hash,
            what: 'names no page of Soakbench.',
            remedy: 'Go back to the list of builds.',
          },
        ]}
      />
      <p class="btns">
        <a class="btn" href={buildsHref}>
          All builds
        </a>
      </p>
    </PlainFrame>
  );
}
