import { Hono } from 'hono';
import type { Assess } from './assess.js';

/** Can the readings be trusted? */
export function probesRoutes(assess: Assess) {
  return new Hono().get('/api/builds/:id/probes', (c) => c.json(assess(c.req.param('id')).assessment.probes));
}
