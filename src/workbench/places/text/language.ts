import 'monaco-editor/features/register.all';
import { jsonDefaults } from 'monaco-editor/languages/features/json/register';
import { languages } from 'monaco-editor/editor/editor.api';
import EditorWorker from 'monaco-editor/editor/editor.worker?worker';
import JsonWorker from 'monaco-editor/languages/features/json/json.worker?worker';
import mapSchema from '../../../../schemas/map.schema.json' with { type: 'json' };
import platformSchema from '../../../../schemas/platform.schema.json' with { type: 'json' };
import { findFunction } from '../../../model/index.ts';

let loaded = false;

/** Sets the JSON language up, once: our schemas, and hovers which explain a function of the catalogue. */
export function loadLanguage(): void {
  if (loaded) return;
  loaded = true;
  self.MonacoEnvironment = { getWorker: (_id, label) => (label === 'json' ? new JsonWorker() : new EditorWorker()) };
  jsonDefaults.setDiagnosticsOptions({
    // Faults are marked by our own reader, which says how to mend them; the schemas serve completions and hovers.
    validate: false,
    allowComments: false,
    enableSchemaRequest: false,
    schemas: [
      { uri: 'crossloom://schemas/map', fileMatch: ['*.map.json'], schema: mapSchema },
      { uri: 'crossloom://schemas/platform', fileMatch: ['*.platform.json'], schema: platformSchema },
    ],
  });
  languages.registerHoverProvider('json', {
    provideHover: (model, position) => {
      const line = model.getLineContent(position.lineNumber);
      for (const match of line.matchAll(/"([a-z0-9-]+)"/g)) {
        const from = match.index + 1;
        if (position.column < from || position.column > from + match[0].length) continue;
        const entry = findFunction(match[1]);
        if (!entry) return null;
        const stale = entry.staleAfterMs === null ? 'no limit stated' : `${entry.staleAfterMs} ms`;
        return {
          range: {
            startLineNumber: position.lineNumber,
            endLineNumber: position.lineNumber,
            startColumn: from,
            endColumn: from + match[0].length,
          },
          contents: [
            { value: `**${entry.title}**` },
            {
              value: `${entry.criticality}, ${entry.carrierRule}; tolerable staleness ${stale} (${entry.timingProvenance})`,
            },
            { value: `Safe state: ${entry.safeState}` },
            { value: entry.why },
          ],
        };
      }
      return null;
    },
  });
}
