import { Hono } from 'hono';
import type { Assess } from './assess.js';

/** Is the better one really better? */
export function compareRoutes(assess: Assess) {
  return new Hono().get('/api/builds/:id/compare', (c) =>
    c.json(assess(c.req.param('id')).assessment.compare),
  );
}
