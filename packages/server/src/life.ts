import { Hono } from 'hono';
import type { Assess } from './assess.js';

/** What does the heat cost? */
export function lifeRoutes(assess: Assess) {
  return new Hono().get('/api/builds/:id/life', (c) => c.json(assess(c.req.param('id')).assessment.life));
}
