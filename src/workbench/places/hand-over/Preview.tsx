import { unzipSync } from 'fflate';
import { useEffect, useState } from 'react';
import { renderDocument } from '../../actions/render.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { bytesOf } from './rendering.ts';
import type { SpecCard } from './specs.ts';

interface Shown {
  readonly texts: readonly { readonly name: string; readonly text: string }[];
  readonly fault: string | null;
}

const SETTLE_MS = 250;

const EMPTY = { dbc: 'The interface module sends nothing yet.', c: 'The map has no interface module yet.' } as const;

/** The texts in an archive. */
function textsIn(archive: Uint8Array): Shown['texts'] {
  return Object.entries(unzipSync(archive)).map(([name, bytes]) => ({ name, text: new TextDecoder().decode(bytes) }));
}

/** The document as it would be handed out now. The page is shown in a frame that can run nothing. */
export function Preview({
  card,
  build,
}: {
  readonly card: SpecCard;
  readonly build: Readonly<Record<string, string>> | null;
}) {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const [shown, setShown] = useState<Shown | null>(null);
  useEffect(() => {
    let current = true;
    const timer = setTimeout(() => {
      renderDocument(store, { spec: card.id, format: card.preview, build })
        .then((files) => {
          const texts = files.flatMap(({ name, base64 }) =>
            card.preview === 'c'
              ? textsIn(bytesOf(base64))
              : [{ name, text: new TextDecoder().decode(bytesOf(base64)) }],
          );
          if (current) setShown({ texts, fault: null });
        })
        .catch((error: unknown) => {
          if (current) setShown({ texts: [], fault: error instanceof Error ? error.message : String(error) });
        });
    }, SETTLE_MS);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [store, card, build, documents]);

  if (!shown) return <p className="loading">Drawing the preview …</p>;
  if (shown.fault !== null) return <p className="bad loading">The preview cannot be drawn: {shown.fault}</p>;
  if (card.preview === 'html')
    return (
      <iframe
        className="preview"
        title={`Preview of the ${card.title}`}
        sandbox=""
        srcDoc={shown.texts[0]?.text ?? ''}
      />
    );
  return (
    <div className="preview text-preview" tabIndex={0} role="region" aria-label={`Preview of the ${card.title}`}>
      {shown.texts.length === 0 ? <p className="empty">{EMPTY[card.preview]}</p> : null}
      {shown.texts.map(({ name, text }) => (
        <section key={name}>
          <h2>{name}</h2>
          <pre className="mono">{text}</pre>
        </section>
      ))}
    </div>
  );
}
