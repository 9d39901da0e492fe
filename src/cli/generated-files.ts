import { faultyDocuments, rulePages, type GeneratedFile } from '../checks/index.ts';
import { jsonSchemaText } from '../model/index.ts';
import { vectorsSchemaText } from '../translate/index.ts';

/** Every generated file of the project: JSON Schemas, rule pages, one faulty map a rule. Paths are from the project's root. */
export function generatedFiles(): readonly GeneratedFile[] {
  return [
    { path: 'schemas/platform.schema.json', content: jsonSchemaText('platform') },
    { path: 'schemas/map.schema.json', content: jsonSchemaText('map') },
    { path: 'schemas/vectors.schema.json', content: vectorsSchemaText() },
    ...rulePages(),
    ...faultyDocuments(),
  ];
}
