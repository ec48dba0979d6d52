import { renderDossier } from '@soakbench/core/dossier';
import type { Store } from '@soakbench/store';
import { Hono } from 'hono';
import type { Assess } from './assess.js';

/** A dossier is one file on its own: its style is inside it, and it needs no script and nothing from anywhere. */
const dossierPolicy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'";

/** Can others trust and repeat it? */
export function dossierRoutes(store: Store, assess: Assess) {
  return new Hono().get('/api/builds/:id/dossier', (c) => {
    const id = c.req.param('id');
    const { stored, assessment } = assess(id);
    c.header('content-security-policy', dossierPolicy);
    return c.html(renderDossier(stored.build, assessment, (file) => store.log(id, file)));
  });
}
