import { BadInputError } from '@soakbench/core/measure';
import { type Build, checkBuild, idFrom, newBuild } from '@soakbench/core/records';
import { type Store, UnknownBuildError } from '@soakbench/store';
import { Hono } from 'hono';
import { validator } from 'hono/validator';
import { needRevision, needText } from './request-fields.js';

type Fields = Readonly<Record<string, unknown>>;

/** The records themselves: list, create, read, change, remove, and every change taken back. */
export function buildsRoutes(store: Store) {
  const revisionField = validator('json', (body: Fields) => ({ revision: needRevision(body['revision']) }));

  return new Hono()
    .get('/api/builds', (c) => c.json(store.builds()))
    .post(
      '/api/builds',
      validator('json', (body: Fields) => ({ name: needText(body['name'], 'name', 120) })),
      (c) => {
        const { name } = c.req.valid('json');
        return c.json(store.addBuild(newBuild(idFrom(name, store.takenIds()), name), new Map()), 201);
      },
    )
    .get('/api/builds/:id', (c) => {
      const stored = store.build(c.req.param('id'));
      if (!stored) throw new UnknownBuildError(c.req.param('id'));
      return c.json(stored);
    })
    .put(
      '/api/builds/:id',
      validator('json', (body: Fields, c) => ({
        build: needBuild(body['build'], c.req.param('id')),
        revision: needRevision(body['revision']),
        what: needText(body['what'], 'what', 200),
      })),
      (c) => {
        const { build, revision, what } = c.req.valid('json');
        return c.json(store.saveBuild(build, revision, what));
      },
    )
    .delete('/api/builds/:id', (c) => {
      store.removeBuild(c.req.param('id'));
      return c.body(null, 204);
    })
    .post('/api/builds/:id/restore', (c) => c.json(store.restoreBuild(c.req.param('id'))))
    .post('/api/builds/:id/undo', revisionField, (c) =>
      c.json(store.undo(c.req.param('id'), c.req.valid('json').revision)),
    )
    .post('/api/builds/:id/redo', revisionField, (c) =>
      c.json(store.redo(c.req.param('id'), c.req.valid('json').revision)),
    );
}

function needBuild(value: unknown, id: string | undefined): Build {
  const build = checkBuild(value, 'This build');
  if (build.id === id) return build;
  throw new BadInputError([
    {
      where: 'This build: id',
      what: `The build calls itself "${build.id}", the address calls it "${id}".`,
      remedy: 'Keep the id; give a build another name instead.',
    },
  ]);
}
