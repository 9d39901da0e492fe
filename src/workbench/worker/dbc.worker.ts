import { contentOfDbc, readDbc } from '../../can/index.ts';
import { sha256Hex } from '../../model/index.ts';
import type { DbcAnswer, DbcRequest } from './dbc-protocol.ts';

function answer(message: DbcAnswer): void {
  postMessage(message);
}

self.onmessage = ({ data }: MessageEvent<DbcRequest>) => {
  try {
    const { database, faults, moreFaults } = readDbc(data.bytes, {
      onProgress: (fraction) => answer({ kind: 'progress', fraction }),
    });
    answer({
      kind: 'read',
      reading: {
        sha256: sha256Hex(data.bytes),
        content: contentOfDbc(database, data.busId),
        faults,
        moreFaults,
        nodes: database.nodes.length,
        messages: database.messages.length,
        signals: database.messages.reduce((sum, message) => sum + message.signals.length, 0),
      },
    });
  } catch (error) {
    answer({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
