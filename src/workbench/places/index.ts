/** The places of the workbench, in the order of the work; each answers one question. */
export const PLACES = [
  { id: 'start', title: 'Start', key: '0', question: 'open, recent, new pairing, the sample', needsPairing: false },
  { id: 'platforms', title: 'Platforms', key: '1', question: 'what each side has', needsPairing: true },
  { id: 'loom', title: 'Loom', key: '2', question: 'how everything is joined', needsPairing: true },
  { id: 'routes', title: 'Routes', key: '3', question: 'the same as a table', needsPairing: true },
  {
    id: 'worklist',
    title: 'Worklist',
    key: '4',
    question: 'what is missing, and what is proposed',
    needsPairing: true,
  },
  { id: 'findings', title: 'Findings', key: '5', question: 'what is wrong', needsPairing: true },
  {
    id: 'harness',
    title: 'Harness',
    key: 'H',
    question: 'circuits, sizes and drops, the drawn harness, cavities',
    needsPairing: true,
  },
  {
    id: 'bench',
    title: 'Bench',
    key: 'B',
    question: 'replay a log: traces in and out, frame by frame',
    needsPairing: true,
  },
  {
    id: 'review',
    title: 'Review',
    key: 'R',
    question: 'what a colleague has to see, what differs, who signs',
    needsPairing: true,
  },
  {
    id: 'hand-over',
    title: 'Hand-over',
    key: '6',
    question: 'each export and what stands in its way',
    needsPairing: true,
  },
  { id: 'text', title: 'Text', key: '7', question: 'the document itself', needsPairing: true },
] as const;

export type Place = (typeof PLACES)[number];
export type PlaceId = Place['id'];
