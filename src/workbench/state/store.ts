import { createStore, useStore, type StoreApi } from 'zustand';
import { useContext, createContext } from 'react';
import type { Finding, FindingCounts } from '../../checks/index.ts';
import type { History } from '../../edit/index.ts';
import type { PairingDocuments } from '../../model/index.ts';
import type { Host, Session } from '../../host/interface/contract.ts';
import type { PlaceId } from '../places/index.ts';

/** The digests of the files as this window last saw them; null: not on disk yet. */
export interface SeenOnDisk {
  readonly map: string | null;
  readonly host: string | null;
  readonly donor: string | null;
}

/** The pairing that is open. */
export interface OpenPairing {
  /** Rises with every pairing opened, so that late answers to an earlier one are dropped. */
  readonly serial: number;
  readonly mapPath: string | null;
  readonly hostPath: string;
  readonly donorPath: string;
  readonly seen: SeenOnDisk;
  /** The documents as the disk holds them; null: never saved. */
  readonly onDisk: PairingDocuments | null;
  readonly history: History;
}

/** Findings of the documents; `stale` while a newer check is under way. */
export interface Checked {
  readonly version: number;
  readonly stale: boolean;
  readonly findings: readonly Finding[];
  readonly counts: FindingCounts;
  readonly elapsedMs: number;
  readonly failure: string | null;
}

/** Something to tell, at the foot of the window, until it is read. */
export interface Notice {
  readonly id: number;
  readonly tone: 'good' | 'bad' | 'plain';
  readonly text: string;
  readonly details: readonly string[];
}

/** A long piece of work with progress; `stop` ends it. */
export interface Task {
  readonly id: number;
  readonly title: string;
  /** 0 to 1; null when it cannot be told. */
  readonly progress: number | null;
  readonly stop: (() => void) | null;
}

/** A document that the machine is writing for the window; `progress` is null until it tells how far it is. */
export interface Rendering {
  readonly job: string;
  readonly title: string;
  readonly progress: { readonly doing: 'sections' | 'pages'; readonly done: number; readonly total: number } | null;
}

/** A question or a tool laid over the window. */
export type Overlay =
  | { readonly kind: 'palette'; readonly mode: 'commands' | 'find' }
  | { readonly kind: 'keys' }
  | {
      readonly kind: 'choose-file';
      readonly purpose: 'open-map' | 'open-platform' | 'open-dbc' | 'open-log' | 'save-map' | 'save-platform';
      readonly suggested: string;
      readonly settle: (path: string | null) => void;
    }
  | {
      readonly kind: 'ask';
      readonly title: string;
      readonly text: string;
      readonly choices: readonly {
        readonly id: string;
        readonly label: string;
        readonly tone?: 'primary' | 'danger';
      }[];
      readonly settle: (choice: string | null) => void;
    };

export interface WorkbenchState {
  readonly host: Host;
  readonly session: Session | null;
  readonly place: PlaceId;
  readonly open: OpenPairing | null;
  /** What is selected everywhere: a finding's subject form, as `route:id`, `host:Message.Signal`, `module:host:ecm`. */
  readonly selection: string | null;
  readonly checked: Checked | null;
  readonly notices: readonly Notice[];
  readonly tasks: readonly Task[];
  readonly rendering: Rendering | null;
  readonly overlay: Overlay | null;
  readonly theme: 'system' | 'light' | 'dark' | 'contrast';
  readonly zoom: number;
}

export type WorkbenchStore = StoreApi<WorkbenchState>;

/** The state a window begins with. */
export function createWorkbenchStore(host: Host): WorkbenchStore {
  return createStore<WorkbenchState>(() => ({
    host,
    session: null,
    place: 'start',
    open: null,
    selection: null,
    checked: null,
    notices: [],
    tasks: [],
    rendering: null,
    overlay: null,
    theme: 'system',
    zoom: 1,
  }));
}

export const StoreContext = createContext<WorkbenchStore | null>(null);

/** The store itself, for actions. */
export function useWorkbenchStore(): WorkbenchStore {
  const store = useContext(StoreContext);
  if (!store) throw new Error('the workbench store is missing');
  return store;
}

/** A part of the state; the component draws again when that part changes. */
export function useWorkbench<T>(select: (state: WorkbenchState) => T): T {
  return useStore(useWorkbenchStore(), select);
}
