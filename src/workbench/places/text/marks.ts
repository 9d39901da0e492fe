import { MarkerSeverity, editor as monacoEditor } from 'monaco-editor/editor/editor.api';
import type { Finding, Severity } from '../../../checks/index.ts';
import {
  linesOfPaths,
  pathOfSubject,
  type DocumentFault,
  type DocumentName,
  type PairingDocuments,
} from '../../../model/index.ts';

type Model = monacoEditor.ITextModel;

const SEVERITY: Readonly<Record<Severity, MarkerSeverity>> = {
  stop: MarkerSeverity.Error,
  fix: MarkerSeverity.Warning,
  look: MarkerSeverity.Info,
};

function lineMarker(
  model: Model,
  line: number,
  column: number,
): { startLineNumber: number; startColumn: number; endLineNumber: number; endColumn: number } {
  const lineNumber = Math.min(line, model.getLineCount());
  return {
    startLineNumber: lineNumber,
    startColumn: column,
    endLineNumber: lineNumber,
    endColumn: model.getLineMaxColumn(lineNumber),
  };
}

/** Marks what keeps a text from being a document. */
export function markFaults(model: Model, faults: readonly DocumentFault[]): void {
  monacoEditor.setModelMarkers(
    model,
    'document',
    faults.map(({ line, column, message, mend }) => ({
      ...lineMarker(model, line, column),
      severity: MarkerSeverity.Error,
      message: mend === null ? message : `${message}\n${mend}`,
    })),
  );
}

/** Marks the open findings at the line of what they are about. */
export function markFindings(
  model: Model,
  findings: readonly Finding[],
  documents: PairingDocuments,
  name: DocumentName,
): void {
  const own = findings
    .filter(({ waived }) => waived === null)
    .map((finding) => ({ finding, place: pathOfSubject(documents, finding.subject) }));
  const here = own.filter(({ place }) => place.document === name);
  const lines =
    here.length > 0
      ? linesOfPaths(
          model.getValue(),
          here.map(({ place }) => place.path),
        )
      : [];
  monacoEditor.setModelMarkers(
    model,
    'findings',
    here.map(({ finding }, at) => ({
      // The line after the opening brace of an entry carries its id: the mark sits there.
      ...lineMarker(
        model,
        lines[at]!.line +
          (model.getLineContent(Math.min(lines[at]!.line, model.getLineCount())).trim() === '{' ? 1 : 0),
        1,
      ),
      severity: SEVERITY[finding.severity],
      source: `${finding.severity} ${finding.rule}`,
      message: `${finding.message}\n${finding.why}`,
    })),
  );
}

/** The document and the line of a subject. */
export function placeOf(
  documents: PairingDocuments,
  subject: string,
): { readonly name: DocumentName; readonly path: ((text: string) => number) | null } {
  const { document: name, path } = pathOfSubject(documents, subject);
  if (path.length === 0) return { name, path: null };
  return { name, path: (text) => linesOfPaths(text, [path])[0]!.line };
}
