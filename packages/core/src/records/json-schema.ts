import * as z from 'zod';
import { buildSchema, buildVersion } from './build-record.js';

/** The JSON Schema of `build.json`, as published in `docs/build.schema.json`. */
export function buildJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(buildSchema, { io: 'input' });
  return { title: `Soakbench build, version ${buildVersion}`, ...schema };
}
