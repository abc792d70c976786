import { readFileSync, writeFileSync } from 'node:fs';
import { toJsonSchema } from '@valibot/to-json-schema';
import { expect, test } from 'vitest';
import { PartDocumentSchema } from '../sketch/part/schema.ts';
import { RouteDocument } from '../toolpath/route/document.ts';

const path = new URL('../samples/leverwright-part.schema.json', import.meta.url);

test('the published JSON Schema is the one the program reads by (UPDATE_SCHEMA=1 npx vitest run tests/part-schema.test.ts writes it anew)', () => {
  const schema = toJsonSchema(PartDocumentSchema, { target: 'draft-07', errorMode: 'ignore' });
  // The part's own schema keeps the route as it comes; what a route may say is the route's to know.
  const { $schema: _, ...route } = toJsonSchema(RouteDocument, { target: 'draft-07', errorMode: 'ignore' });
  schema.properties = { ...schema.properties, route };
  const text = `${JSON.stringify(schema, null, 2)}\n`;
  if (process.env.UPDATE_SCHEMA === '1') writeFileSync(path, text);
  expect(
    readFileSync(path, 'utf8'),
    'stale: run  UPDATE_SCHEMA=1 npx vitest run tests/part-schema.test.ts  and commit samples/leverwright-part.schema.json',
  ).toBe(text);
});
