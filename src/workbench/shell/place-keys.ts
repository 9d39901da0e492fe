/** Keys that mean something inside a place, for the keyboard map. */
export interface PlaceKeys {
  readonly where: string;
  readonly keys: readonly (readonly [title: string, keys: string])[];
}

export const PLACE_KEYS: readonly PlaceKeys[] = [
  {
    where: 'In lists: Findings, Worklist',
    keys: [
      ['Move down, up', 'J K, arrows'],
      ['First, last; a page', 'Home End, PageUp PageDown'],
      ['Mark; mark on the way', 'Space, Shift + arrows'],
      ['Take the marks away', 'Escape'],
      ['Filter by text', '/'],
    ],
  },
  {
    where: 'Findings',
    keys: [
      ['Go to what it concerns', 'Enter'],
      ['Mend, or the marked', 'M'],
      ['Waive, or the marked', 'W'],
      ['Mark all of the same rule', 'A'],
      ['Lift the waiver (among the waived)', 'L'],
    ],
  },
  {
    where: 'Worklist',
    keys: [
      ['Accept the chosen proposal, or the best for the marked', 'Enter'],
      ['Choose a proposal', '1 … 5'],
      ['Leave out', 'O'],
      ['Show in the Loom', 'G'],
    ],
  },
  {
    where: 'Review',
    keys: [
      ['Agreed', 'A'],
      ['Question, objection: type, then Ctrl+Enter', 'Q  O'],
      ['Next step to do', 'N'],
      ['Show the step where it is', 'Enter'],
    ],
  },
  {
    where: 'Loom',
    keys: [
      ['Walk from strand to strand', 'J K, arrows'],
      ['Fold, unfold a group', '← → Space'],
      ['Into the strip of the strand', 'Enter'],
      ['Search; next, previous hit', '/  N  Shift+N'],
    ],
  },
  {
    where: 'Routes',
    keys: [
      ['Edit the cell', 'Enter, F2 or type'],
      ['Choose the row; all rows', 'Space, Ctrl+A'],
      ['Empty the cell', 'Delete'],
      ['Copy, paste rows', 'Ctrl+C Ctrl+V'],
    ],
  },
  {
    where: 'Bench',
    keys: [
      ['Next, previous frame', '→ ←'],
      ['Next, previous loss or clip', 'N  Shift+N'],
      ['Show less, more, all', '+  −  0'],
      ['Move the view', 'Shift + arrows, PageUp PageDown'],
      ['Cursor to the beginning, the end', 'Home End'],
    ],
  },
  {
    where: 'Harness',
    keys: [
      ['Walk the circuits; into the fields', 'J K, arrows; Enter'],
      ['Move the drawing; zoom; fit', 'arrows; + −; 0'],
      ['Next, previous node or segment of the drawing', 'N P'],
      ['Move from cavity to cavity', 'arrows'],
      ['Filter the circuits', '/'],
    ],
  },
  {
    where: 'Bits of a message',
    keys: [
      ['Next, previous signal', '] ['],
      ['Move the field; resize it', 'arrows, Shift + arrows'],
      ['Change the byte order', 'B'],
    ],
  },
];
