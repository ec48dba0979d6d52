import { Hono } from 'hono';
import type { Assess } from './assess.js';

/** Which set-up, why, and what would change it? */
export function verdictRoutes(assess: Assess) {
  return new Hono().get('/api/builds/:id/verdict', (c) =>
    c.json(assess(c.req.param('id')).assessment.verdict),
  );
}
