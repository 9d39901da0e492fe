import { editor as monacoEditor, type IDisposable } from 'monaco-editor/editor/editor.api';
import type { DocumentName, PairingDocuments } from '../../../model/index.ts';
import type { WorkbenchStore } from '../../state/store.ts';
import { textOf } from '../text/drafts.ts';
import { loadLanguage } from '../text/language.ts';
import { watchTheme } from '../text/theme.ts';

export interface TextComparison {
  show(name: DocumentName): void;
  /** Goes to the next (1) or previous (-1) place that differs. */
  next(step: 1 | -1): void;
  dispose(): void;
}

/** Starts Monaco's comparison of the canonical texts; the later side follows the documents. Reading only. */
export function startComparison(
  holder: HTMLElement,
  store: WorkbenchStore,
  base: PairingDocuments,
  onChanges: (count: number) => void,
): TextComparison {
  loadLanguage();
  const theme = watchTheme(store);
  const view = monacoEditor.createDiffEditor(holder, {
    automaticLayout: true,
    readOnly: true,
    originalEditable: false,
    renderSideBySide: true,
    useInlineViewWhenSpaceIsLimited: false,
    hideUnchangedRegions: { enabled: true },
    minimap: { enabled: false },
    fontFamily: getComputedStyle(document.documentElement).getPropertyValue('--font-mono'),
    fontSize: 13,
    scrollBeyondLastLine: false,
    originalAriaLabel: 'Text of the earlier revision',
    modifiedAriaLabel: 'Text of this revision',
  });
  let models: readonly IDisposable[] = [];
  let shown: DocumentName = 'map';
  const documents = (): PairingDocuments => store.getState().open!.history.documents;
  const fill = (): void => {
    const original = monacoEditor.createModel(textOf(base, shown), 'json');
    const modified = monacoEditor.createModel(textOf(documents(), shown), 'json');
    const before = models;
    models = [original, modified];
    view.setModel({ original, modified });
    for (const model of before) model.dispose();
  };
  const heard = view.onDidUpdateDiff(() => onChanges(view.getLineChanges()?.length ?? 0));
  const unsubscribe = store.subscribe((state, old) => {
    if (state.open && state.open.history.documents[shown] !== old.open?.history.documents[shown]) fill();
  });
  return {
    show: (name) => {
      shown = name;
      fill();
    },
    next: (step) => view.goToDiff(step === 1 ? 'next' : 'previous'),
    dispose: () => {
      unsubscribe();
      heard.dispose();
      theme.dispose();
      view.dispose();
      for (const model of models) model.dispose();
    },
  };
}
