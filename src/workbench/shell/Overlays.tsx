import { useWorkbench } from '../state/store.ts';
import { AskDialog } from './AskDialog.tsx';
import { FileChooser } from './FileChooser.tsx';
import { KeyboardMap } from './KeyboardMap.tsx';
import { Palette } from './Palette.tsx';

/** The one thing that may lie over the window. */
export function Overlays() {
  const overlay = useWorkbench((state) => state.overlay);
  if (overlay === null) return null;
  switch (overlay.kind) {
    case 'palette':
      return <Palette mode={overlay.mode} />;
    case 'keys':
      return <KeyboardMap />;
    case 'ask':
      return <AskDialog {...overlay} />;
    case 'choose-file':
      return <FileChooser {...overlay} />;
  }
}
