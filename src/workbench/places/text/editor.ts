import { editor as monacoEditor, Uri, type IDisposable } from 'monaco-editor/editor/editor.api';
import type { DocumentName, PairingDocuments } from '../../../model/index.ts';
import type { WorkbenchStore } from '../../state/store.ts';
import { readDraft, takeText, textOf } from './drafts.ts';
import { loadLanguage } from './language.ts';
import { markFaults, markFindings, placeOf } from './marks.ts';
import { watchTheme } from './theme.ts';

export interface TextEditor {
  show(name: DocumentName): void;
  /** Brings what a subject stands for into view. */
  reveal(subject: string): void;
  /** Replaces a text that is no valid document by the document as it is. */
  restore(name: DocumentName): void;
  dispose(): void;
}

/** Typing settles before the text is read. */
const SETTLE_MS = 350;
const NAMES: readonly DocumentName[] = ['map', 'host', 'donor'];

/** Starts the editor in an element. `onUnfinished` hears which texts are no valid documents. */
export function startEditor(
  holder: HTMLElement,
  store: WorkbenchStore,
  onUnfinished: (names: ReadonlySet<DocumentName>) => void,
): TextEditor {
  loadLanguage();
  const disposables: IDisposable[] = [watchTheme(store)];
  const unfinished = new Set<DocumentName>();
  const timers = new Map<DocumentName, ReturnType<typeof setTimeout>>();
  const tell = (): void => onUnfinished(new Set(unfinished));
  const documents = (): PairingDocuments => store.getState().open!.history.documents;

  const models = new Map(
    NAMES.map((name) => {
      const draft = readDraft(store, name);
      const uri = Uri.parse(`inmemory://crossloom/${name === 'map' ? 'pairing.map.json' : `${name}.platform.json`}`);
      monacoEditor.getModel(uri)?.dispose();
      const model = monacoEditor.createModel(draft ?? textOf(documents(), name), 'json', uri);
      model.updateOptions({ tabSize: 2, insertSpaces: true });
      disposables.push(model);
      return [name, model] as const;
    }),
  );
  const view = monacoEditor.create(holder, {
    model: models.get('map')!,
    automaticLayout: true,
    minimap: { enabled: false },
    fontFamily: getComputedStyle(document.documentElement).getPropertyValue('--font-mono'),
    fontSize: 13,
    scrollBeyondLastLine: false,
    renderWhitespace: 'none',
    fixedOverflowWidgets: true,
    accessibilitySupport: 'auto',
    ariaLabel: 'Document text',
    unicodeHighlight: { ambiguousCharacters: false },
  });
  disposables.push(view);

  /** Reads a text: a valid one becomes the document, another keeps its faults marked and stays as it is typed. */
  const settle = (name: DocumentName): void => {
    const model = models.get(name)!;
    const result = takeText(store, name, model.getValue());
    markFaults(model, result.faults);
    if (result.faults.length > 0) unfinished.add(name);
    else unfinished.delete(name);
    tell();
  };
  let applying = false;
  const shows = (name: DocumentName): boolean => view.getModel() === models.get(name);
  for (const [name, model] of models) {
    disposables.push(
      model.onDidChangeContent(() => {
        if (applying) return;
        clearTimeout(timers.get(name));
        timers.set(
          name,
          setTimeout(() => settle(name), SETTLE_MS),
        );
      }),
    );
    if (readDraft(store, name) !== null) settle(name);
  }

  /** A change made elsewhere (another place, undo, a file changed outside) comes into the text, unless it is unfinished. */
  const follow = (): void => {
    const { open } = store.getState();
    if (!open) return;
    for (const [name, model] of models) {
      if (unfinished.has(name) || timersPending(timers, name, model.getValue(), store)) continue;
      const text = textOf(open.history.documents, name);
      if (model.getValue() === text) continue;
      applying = true;
      const selections = shows(name) ? view.getSelections() : null;
      model.pushEditOperations([], [{ range: model.getFullModelRange(), text }], () => null);
      if (selections) view.setSelections(selections);
      applying = false;
    }
  };
  const markAll = (): void => {
    const { open, checked } = store.getState();
    if (!open) return;
    for (const [name, model] of models)
      markFindings(model, unfinished.has(name) ? [] : (checked?.findings ?? []), documents(), name);
  };
  const unsubscribe = store.subscribe((state, before) => {
    if (!state.open) return;
    if (state.open.history.documents !== before.open?.history.documents) follow();
    if (state.checked !== before.checked) markAll();
  });
  markAll();
  tell();

  return {
    show: (name) => view.setModel(models.get(name)!),
    reveal: (subject) => {
      const { name, path } = placeOf(documents(), subject);
      const model = models.get(name)!;
      if (!shows(name) || path === null) return;
      view.revealLineInCenterIfOutsideViewport(path(model.getValue()));
      view.setPosition({ lineNumber: path(model.getValue()), column: 1 });
    },
    restore: (name) => {
      models.get(name)!.setValue(textOf(documents(), name));
      settle(name);
    },
    dispose: () => {
      unsubscribe();
      // What was typed last is read now, so that leaving the place loses nothing.
      for (const [name, timer] of timers) {
        clearTimeout(timer);
        takeText(store, name, models.get(name)!.getValue());
      }
      for (const disposable of disposables) disposable.dispose();
    },
  };
}

/** A text that is being typed is not overwritten by what the pairing was before it. */
function timersPending(
  timers: ReadonlyMap<DocumentName, unknown>,
  name: DocumentName,
  text: string,
  store: WorkbenchStore,
): boolean {
  return timers.has(name) && readDraft(store, name) !== null && readDraft(store, name) === text;
}
