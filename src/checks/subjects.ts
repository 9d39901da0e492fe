import { FUNCTIONS, wiredRoutes, type Pairing, type SideName } from '../model/index.ts';
import type { CheckContext } from './context.ts';
import type { BusSubject, ModuleSubject, Scope, Subjects } from './rule.ts';

/** Visits every subject of a scope with the reference findings about it bear by default. */
export function eachSubject<S extends Scope>(
  context: CheckContext,
  scope: S,
  visit: (ref: string, subject: Subjects[S]) => void,
): void {
  const enter = visit as (ref: string, subject: Subjects[Scope]) => void;
  const { pairing } = context;
  switch (scope) {
    case 'route':
      for (const route of pairing.map.routes) enter(`route:${route.id}`, route);
      return;
    case 'fit':
      for (const route of wiredRoutes(pairing)) for (const fit of context.fits(route)) enter(`route:${route.id}`, fit);
      return;
    case 'transmit':
      for (const transmit of pairing.map.transmits) enter(`transmit:${transmit.message}`, transmit);
      return;
    case 'need':
      for (const need of context.derivation.needs.values()) enter(need.ref, need);
      return;
    case 'message':
      for (const side of sides(pairing)) for (const entry of side.messages.values()) enter(entry.ref, entry);
      return;
    case 'wire':
      for (const side of sides(pairing)) for (const entry of side.wires.values()) enter(entry.ref, entry);
      return;
    case 'module':
      for (const subject of moduleSubjects(pairing)) enter(subject.ref, subject);
      return;
    case 'bus':
      for (const subject of busSubjects(pairing)) enter(subject.ref, subject);
      return;
    case 'interface':
      for (const owner of pairing.map.interfaceModules) enter(owner.id, owner);
      return;
    case 'option':
      for (const axis of pairing.map.options ?? []) enter(`option:${axis.id}`, axis);
      return;
    case 'function':
      for (const entry of FUNCTIONS.values()) enter(`function:${entry.id}`, entry);
      return;
    case 'harness':
      enter('map', context.wiring());
      return;
    case 'map':
      enter('map', pairing.map);
      return;
  }
}

function sides(pairing: Pairing) {
  return [pairing.host, pairing.donor];
}

export function moduleRef(side: SideName, id: string): string {
  return `module:${side}:${id}`;
}

export function busRef(side: SideName, id: string): string {
  return `bus:${side}:${id}`;
}

function* moduleSubjects(pairing: Pairing): Iterable<ModuleSubject> {
  for (const side of sides(pairing)) {
    for (const module of side.modules.values()) yield { side: side.name, ref: moduleRef(side.name, module.id), module };
  }
}

function* busSubjects(pairing: Pairing): Iterable<BusSubject> {
  for (const side of sides(pairing)) {
    for (const bus of side.buses.values()) yield { side: side.name, ref: busRef(side.name, bus.id), bus };
  }
}

/** The subject of a scope with that reference; several transmits may send one message. */
export function findSubjects<S extends Scope>(context: CheckContext, scope: S, ref: string): readonly Subjects[S][] {
  return locate(context, scope, ref).filter((subject) => subject !== undefined) as unknown as readonly Subjects[S][];
}

function locate(context: CheckContext, scope: Scope, ref: string): readonly (Subjects[Scope] | undefined)[] {
  const { pairing } = context;
  switch (scope) {
    case 'route':
      return [pairing.routes.get(ref.slice('route:'.length))];
    case 'fit': {
      const route = pairing.routes.get(ref.slice('route:'.length));
      return route ? context.fits(route) : [];
    }
    case 'transmit':
      return pairing.transmitsOf.get(ref.slice('transmit:'.length)) ?? [];
    case 'need':
      return [context.derivation.needs.get(ref)];
    case 'message': {
      const entry = pairing.find(ref);
      return entry?.kind === 'message' ? [entry] : [];
    }
    case 'wire': {
      const entry = pairing.find(ref);
      return entry?.kind === 'wire' ? [entry] : [];
    }
    case 'interface':
      return [pairing.interfaceModules.get(ref)];
    case 'module':
      return [...moduleSubjects(pairing)].filter((subject) => subject.ref === ref);
    case 'bus':
      return [...busSubjects(pairing)].filter((subject) => subject.ref === ref);
    case 'option':
      return (pairing.map.options ?? []).filter(({ id }) => `option:${id}` === ref);
    case 'function':
      return [FUNCTIONS.get(ref.slice('function:'.length))];
    case 'harness':
      return [context.wiring()];
    case 'map':
      return [pairing.map];
  }
}
