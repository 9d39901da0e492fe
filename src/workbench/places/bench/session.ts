import { HostError } from '../../../host/interface/contract.ts';
import { bytesOfBase64 } from '../../actions/read-dbc.ts';
import { notify } from '../../actions/notices.ts';
import { beginTask } from '../../actions/tasks.ts';
import { pairingOf } from '../../state/derived.ts';
import type { WorkbenchStore } from '../../state/store.ts';
import { routeOfSelection } from '../../strip/Strip.tsx';
import type { BenchAnswer, BenchRequest, StepScope } from '../../worker/bench-protocol.ts';
import { benchMemory, type BenchInput, type BenchState, type View } from './bench-state.ts';

/** A view is never narrower than this. */
const LEAST_US = 20;
/** So much of a view is drawn beyond each of its ends, so that it can be moved at once. */
const MARGIN = 0.5;
const PART_BYTES = 2_000_000;

/** The replaying thread of a window and what is asked of it. */
class BenchSession {
  private worker: Worker | null = null;
  private task: ReturnType<typeof beginTask> | null = null;
  private token = 0;
  private columns = 1000;
  private lanesBusy = false;
  private lanesWanted = false;
  private momentBusy = false;
  private momentWanted: BenchRequest | null = null;

  constructor(private readonly store: WorkbenchStore) {}

  private get memory() {
    return benchMemory(this.store);
  }

  /** Replays an input with the documents as they stand. */
  replay(input: BenchInput): void {
    const { open } = this.store.getState();
    if (open === null) return;
    const { documents } = open.history;
    const { build, buses, compare } = this.memory.getState();
    this.worker?.terminate();
    this.worker = new Worker(new URL('../../worker/bench.worker.ts', import.meta.url), { type: 'module' });
    this.worker.onmessage = ({ data }: MessageEvent<BenchAnswer>) => this.take(data);
    this.worker.onerror = (event) => this.fail(event.message);
    this.lanesBusy = false;
    this.momentBusy = false;
    this.momentWanted = null;
    this.task?.end();
    this.task = beginTask(this.store, 'Replaying', () => this.stop());
    this.memory.setState({
      phase: 'running',
      input,
      documents,
      progress: { fraction: 0, timeUs: 0 },
      failure: null,
      summary: null,
      moment: null,
      heads: [],
      points: [],
      pointsSpan: null,
    });
    const sent = { ...documents, build };
    if (input.kind === 'stimulus') this.send({ kind: 'stimulate', documents: sent, plan: input.plan });
    else
      this.send({
        kind: 'replay',
        documents: sent,
        logs: input.logs.map(({ name, bytes, file }) => ({ name, bytes, file })),
        buses: Object.entries(buses).map(([name, bus]) => `${name}=${bus}`),
        compare,
      });
  }

  /** Ends the replay under way; what was replayed so far is shown. */
  stop(): void {
    this.send({ kind: 'stop' });
  }

  show(view: View): void {
    const { summary } = this.memory.getState();
    if (summary === null) return;
    const whole = wholeOf(summary);
    const width = Math.min(Math.max(LEAST_US, view.toUs - view.fromUs), whole.toUs - whole.fromUs);
    const fromUs = Math.min(Math.max(view.fromUs, whole.fromUs), whole.toUs - width);
    this.memory.setState({ view: { fromUs, toUs: fromUs + width } });
    this.askLanes();
  }

  showAll(): void {
    const { summary } = this.memory.getState();
    if (summary !== null) this.show(wholeOf(summary));
  }

  /** Zooms about a moment; a factor below 1 shows less. */
  zoom(factor: number, aboutUs: number): void {
    const { view } = this.memory.getState();
    if (view === null) return;
    const width = (view.toUs - view.fromUs) * factor;
    const share = (aboutUs - view.fromUs) / (view.toUs - view.fromUs);
    this.show({ fromUs: aboutUs - share * width, toUs: aboutUs + (1 - share) * width });
  }

  /** Moves the view by a share of its width. */
  pan(share: number): void {
    const { view } = this.memory.getState();
    if (view === null) return;
    const by = (view.toUs - view.fromUs) * share;
    this.show({ fromUs: view.fromUs + by, toUs: view.toUs + by });
  }

  /** How many pixels wide the plots are. */
  resize(columns: number): void {
    if (columns === this.columns || columns < 2) return;
    this.columns = Math.round(columns);
    this.askLanes();
  }

  setCursor(timeUs: number): void {
    const { summary } = this.memory.getState();
    if (summary === null) return;
    const cursorUs = Math.round(Math.min(Math.max(timeUs, summary.startUs), summary.endUs));
    this.memory.setState({ cursorUs });
    this.askMoment({ kind: 'moment', token: 0, timeUs: cursorUs, at: null, scope: this.scope() });
  }

  step(step: 1 | -1): void {
    const { cursorUs, moment } = this.memory.getState();
    const at = moment?.frame && moment.frame.timeUs === cursorUs ? moment.frame.place : null;
    this.askMoment({ kind: 'step', token: 0, timeUs: cursorUs, at, step, scope: this.scope() });
  }

  /** To the next moment at which a traced route goes into loss or clips, or leaves it. */
  turn(step: 1 | -1): void {
    const { cursorUs } = this.memory.getState();
    this.askMoment({ kind: 'turn', token: 0, timeUs: cursorUs, step, routes: this.shown() });
  }

  /** Traces a route, or no longer. */
  trace(route: string, on: boolean): void {
    const { traced } = this.memory.getState();
    this.memory.setState({
      traced: on ? [...traced.filter((id) => id !== route), route] : traced.filter((id) => id !== route),
    });
    this.askLanes();
  }

  /** Draws the lanes again: the selection or the traced routes changed. */
  askLanes(): void {
    const { view, summary } = this.memory.getState();
    if (view === null || summary === null) return;
    if (this.lanesBusy) {
      this.lanesWanted = true;
      return;
    }
    this.lanesBusy = true;
    this.lanesWanted = false;
    const width = view.toUs - view.fromUs;
    this.send({
      kind: 'lanes',
      token: this.token,
      routes: this.shown(),
      span: {
        fromUs: view.fromUs - width * MARGIN,
        toUs: view.toUs + width * MARGIN,
        columns: Math.round(this.columns * (1 + 2 * MARGIN)),
      },
    });
  }

  /** The routes that have a lane: the selected one first, where it is not traced anyway. */
  shown(): readonly string[] {
    const { selection, open } = this.store.getState();
    const { traced } = this.memory.getState();
    if (open === null) return traced;
    const pairing = pairingOf(open.history.documents);
    const selected = routeOfSelection(pairing, selection)?.id;
    const there = traced.filter((id) => pairing.routes.has(id));
    return selected === undefined || there.includes(selected) ? there : [selected, ...there];
  }

  private scope(): StepScope {
    const shown = this.shown();
    return this.memory.getState().stepBy === 'all' || shown.length === 0 ? 'all' : shown;
  }

  private send(request: BenchRequest, transfer: Transferable[] = []): void {
    this.worker?.postMessage(request, transfer);
  }

  private askMoment(request: BenchRequest): void {
    if (this.momentBusy) {
      this.momentWanted = request;
      return;
    }
    this.momentBusy = true;
    this.send(request);
  }

  private take(answer: BenchAnswer): void {
    switch (answer.kind) {
      case 'progress':
        this.task?.progress(answer.fraction);
        this.memory.setState({ progress: { fraction: answer.fraction, timeUs: answer.timeUs } });
        return;
      case 'wants':
        void this.fetchPart(answer.log, answer.from);
        return;
      case 'failed':
        this.fail(answer.message);
        return;
      case 'recorded':
        this.begin(answer.summary);
        return;
      case 'lanes':
        this.lanesBusy = false;
        this.memory.setState({ heads: answer.heads, points: answer.points, pointsSpan: answer.span });
        if (this.lanesWanted) this.askLanes();
        return;
      case 'moment': {
        this.momentBusy = false;
        const { moment } = answer;
        const wanted = this.momentWanted;
        this.momentWanted = null;
        this.memory.setState(wanted === null ? { moment, cursorUs: moment.timeUs } : { moment });
        if (wanted !== null) {
          // A step that waited goes on from where the one before it came out.
          const from = { timeUs: moment.timeUs, at: moment.frame?.place ?? null };
          if (wanted.kind === 'step' || wanted.kind === 'turn') this.memory.setState({ cursorUs: moment.timeUs });
          this.askMoment(wanted.kind === 'step' || wanted.kind === 'turn' ? { ...wanted, ...from } : wanted);
        } else this.follow(moment.timeUs);
      }
    }
  }

  private begin(summary: NonNullable<BenchState['summary']>): void {
    this.task?.end();
    this.task = null;
    const before = this.memory.getState();
    this.memory.setState({ phase: 'ready', progress: null, summary, view: null });
    const whole = wholeOf(summary);
    const keeps = before.view !== null && before.view.fromUs >= whole.fromUs && before.view.toUs <= whole.toUs;
    this.show(keeps ? before.view! : whole);
    const stays = before.cursorUs > summary.startUs && before.cursorUs <= summary.endUs;
    this.setCursor(stays ? before.cursorUs : summary.startUs + (summary.endUs - summary.startUs) / 2);
  }

  /** Brings the cursor into view when it was stepped out of it. */
  private follow(timeUs: number): void {
    const { view } = this.memory.getState();
    if (view === null || (timeUs >= view.fromUs && timeUs <= view.toUs)) return;
    const width = view.toUs - view.fromUs;
    this.show({ fromUs: timeUs - width / 2, toUs: timeUs + width / 2 });
  }

  private fail(message: string): void {
    this.task?.end();
    this.task = null;
    this.memory.setState({ phase: 'empty', progress: null, failure: message });
    notify(this.store, 'bad', `The replay ended: ${message}`);
  }

  private async fetchPart(log: number, from: number): Promise<void> {
    const { input } = this.memory.getState();
    const path = input?.kind === 'logs' ? (input.logs[log]?.path ?? null) : null;
    try {
      if (path === null) throw new HostError('the log is no longer at hand: choose it again');
      const { base64 } = await this.store.getState().host.call('readPart', { path, from, most: PART_BYTES });
      const bytes = bytesOfBase64(base64);
      this.send({ kind: 'part', log, bytes }, [bytes.buffer]);
    } catch (error) {
      this.send({ kind: 'part-failed', log, message: error instanceof Error ? error.message : String(error) });
    }
  }
}

/** The whole recording, with a little room; never narrower than a millisecond. */
export function wholeOf({ startUs, endUs }: { readonly startUs: number; readonly endUs: number }): View {
  return { fromUs: startUs, toUs: Math.max(endUs, startUs + 1000) };
}

const sessions = new WeakMap<WorkbenchStore, BenchSession>();

/** The session of a window; made when it is first asked for. */
export function benchSession(store: WorkbenchStore): BenchSession {
  const known = sessions.get(store) ?? new BenchSession(store);
  sessions.set(store, known);
  return known;
}
