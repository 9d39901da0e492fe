import { z } from 'zod';
import { CrossloomMap } from './document/map.ts';
import { Platform } from './document/platform.ts';

/** JSON Schema (draft-07) of a document kind, as text: generated from the schema that reads it, so that editors know both. */
export function jsonSchemaText(of: 'platform' | 'map'): string {
  const schema = z.toJSONSchema(of === 'platform' ? Platform : CrossloomMap, { target: 'draft-7', io: 'input' });
  const title = of === 'platform' ? 'Crossloom platform' : 'Crossloom map';
  return `${JSON.stringify({ title, ...schema }, null, 2)}\n`;
}
