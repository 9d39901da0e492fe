import { writeMap, writePlatform, type CrossloomMap, type Platform } from '../model/index.ts';
import type { GeneratedFile } from './explain.ts';
import { RULES } from './rules/index.ts';

const ROOT = 'sample-maps/faulty';

/** One faulty map a rule, with its two small platforms: the failing example of the rule as files. */
export function faultyDocuments(): readonly GeneratedFile[] {
  return RULES.flatMap((rule) => {
    const { map, host, donor } = rule.examples.failing().documents;
    const name = rule.id.replace('/', '-');
    const linked: CrossloomMap = {
      ...map,
      host: { ...map.host, platform: `../platforms/${name}.host.platform.json` },
      donor: { ...map.donor, platform: `../platforms/${name}.donor.platform.json` },
    };
    return [
      {
        path: `${ROOT}/${rule.id}.map.json`,
        content: writeMap({ $schema: '../../../schemas/map.schema.json', ...linked }),
      },
      platformFile(`${ROOT}/platforms/${name}.host.platform.json`, host),
      platformFile(`${ROOT}/platforms/${name}.donor.platform.json`, donor),
    ];
  });
}

function platformFile(path: string, platform: Platform): GeneratedFile {
  return { path, content: writePlatform({ $schema: '../../../schemas/platform.schema.json', ...platform }) };
}
