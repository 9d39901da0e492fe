import { pair, readMap, readPlatform, type ReadResult } from '../../model/index.ts';
import { drive } from './drive.ts';
import { frameLog } from './frames.ts';
import { levelLog } from './levels.ts';

/** The sample map and its platforms, as text. */
export interface SampleTexts {
  readonly map: string;
  readonly host: string;
  readonly donor: string;
}

/** The logs of a drive with the sample map's vehicle, from fixed seeds. Paths are from the project's root. */
export function sampleLogs({
  map,
  host,
  donor,
}: SampleTexts): readonly { readonly path: string; readonly content: string }[] {
  const pairing = pair(documentOf(readMap(map)), documentOf(readPlatform(host)), documentOf(readPlatform(donor)));
  const moments = drive();
  return [
    { path: 'sample-maps/logs/drive.log', content: frameLog(pairing, moments) },
    { path: 'sample-maps/logs/drive-wires.csv', content: levelLog(pairing, moments) },
  ];
}

function documentOf<T>(read: ReadResult<T>): T {
  if (!read.ok) throw new Error('a document of the sample cannot be read');
  return read.document;
}
