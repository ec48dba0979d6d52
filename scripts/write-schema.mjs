// @ts-check
/** Writes docs/build.schema.json, the published JSON Schema of `build.json`. Needs a build: `npm run build`. */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildJsonSchema } from '@soakbench/core/records';

export const schemaFile = new URL('../docs/build.schema.json', import.meta.url);

/** The file as it must be for the schema that `core` holds now. */
export function schemaText() {
  return `${JSON.stringify(buildJsonSchema(), null, 2)}\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(schemaFile, schemaText());
