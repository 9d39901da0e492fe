import { FUNCTIONS, type VehicleFunction } from './catalogue.ts';

/**
 * One way to treat a lost value. `level`: the thing the function names is so (active) or not so (inactive); `state`: a state of the
 * catalogue; `value`: in the function's unit; `not-available`: the reader is told that there is no value.
 */
export type SafeLoss =
  | { readonly do: 'substitute'; readonly level: 'active' | 'inactive' }
  | { readonly do: 'substitute'; readonly state: string }
  | { readonly do: 'substitute'; readonly value: number }
  | { readonly do: 'not-available' }
  | { readonly do: 'open-output' }
  | { readonly do: 'hold' };

/** Values which are the opposite of the safe state: a level, catalogue states, or all numbers at or beyond a bound. */
export type DangerousValue =
  | { readonly level: 'active' | 'inactive' }
  | { readonly states: readonly string[] }
  | { readonly above: number }
  | { readonly below: number };

/** The safe loss behaviour of a function, read from the words of its safe state in the catalogue. */
export interface FunctionLoss {
  /** Acceptable ones; the first is what a proposal fills in. */
  readonly safe: readonly SafeLoss[];
  readonly dangerous: readonly DangerousValue[];
  /** The words of `safeState` it rests on. */
  readonly says: string;
}

const NOT_AVAILABLE: SafeLoss = { do: 'not-available' };
const OPEN: SafeLoss = { do: 'open-output' };
const HOLD: SafeLoss = { do: 'hold' };

function level(is: 'active' | 'inactive', says: string, ...also: readonly SafeLoss[]): FunctionLoss {
  const opposite = is === 'active' ? 'inactive' : 'active';
  return { safe: [{ do: 'substitute', level: is }, ...also], dangerous: [{ level: opposite }], says };
}
/** The thing is not so, and the reader may as well be told that there is no value. */
const inactive = (says: string): FunctionLoss => level('inactive', says, NOT_AVAILABLE, OPEN);
const active = (says: string): FunctionLoss => level('active', says, NOT_AVAILABLE);
const missing = (says: string, ...also: readonly SafeLoss[]): FunctionLoss => ({
  safe: [NOT_AVAILABLE, ...also],
  dangerous: [],
  says,
});
const value = (
  is: number,
  dangerous: readonly DangerousValue[],
  says: string,
  ...also: readonly SafeLoss[]
): FunctionLoss => ({
  safe: [{ do: 'substitute', value: is }, NOT_AVAILABLE, ...also],
  dangerous,
  says,
});
const state = (is: string, dangerous: readonly string[], says: string): FunctionLoss => ({
  safe: [{ do: 'substitute', state: is }, NOT_AVAILABLE],
  dangerous: [{ states: dangerous }],
  says,
});
const hold = (says: string, ...also: readonly SafeLoss[]): FunctionLoss => ({
  safe: [HOLD, ...also],
  dangerous: [],
  says,
});

/** A warning: lit when in doubt. */
const LAMP_ON = active('Lamp on');

const LOSS: Readonly<Record<string, FunctionLoss>> = {
  'park-neutral-starter-interlock': inactive('no crank'),
  'clutch-pedal-starter-interlock': inactive('no crank'),
  'starter-relay-command': inactive('de-energised'),
  'crank-request': inactive('No crank'),
  'ignition-run-state': inactive('Powertrain off'),
  'ignition-crank-state': inactive('not cranking'),
  'ignition-accessory-state': inactive('Off'),
  'network-wake-request': level('inactive', 'else sleep', OPEN),
  'immobilizer-authorization': {
    safe: [{ do: 'substitute', state: 'unknown' }, NOT_AVAILABLE, { do: 'substitute', level: 'inactive' }],
    dangerous: [{ states: ['authorized'] }, { level: 'active' }],
    says: 'No fuel / no crank',
  },
  'remote-start-request': inactive('No start'),
  'hood-ajar': active('Treat as open'),
  'driver-door-ajar': active('Treat as open'),
  'engine-running-status': state('unknown', ['stopped'], 'Unknown'),
  'key-removal-park-interlock': inactive('Key retained'),
  'engine-stop-request': level('active', 'Engine stopped', OPEN),
  'auto-stop-restart-permit': inactive('Auto-stop inhibited'),
  'service-brake-switch-primary': {
    safe: [{ do: 'substitute', level: 'active' }, NOT_AVAILABLE, OPEN],
    dangerous: [],
    says: 'Treat as pressed for cruise',
  },
  'service-brake-switch-secondary': {
    safe: [{ do: 'substitute', level: 'active' }, NOT_AVAILABLE, OPEN],
    dangerous: [{ level: 'inactive' }],
    says: 'cancel cruise',
  },
  'stop-lamp-activation': {
    safe: [OPEN, NOT_AVAILABLE, { do: 'substitute', level: 'active' }],
    dangerous: [],
    says: 'regardless of network state',
  },
  'brake-to-shift-interlock': inactive('locked in park'),
  'brake-pressure': missing('Unknown'),
  'brake-booster-vacuum': missing('Assume low assist', { do: 'substitute', value: 0 }),
  'parking-brake-switch': { safe: [NOT_AVAILABLE], dangerous: [], says: 'Lamp on; inhibit PTO and remote start' },
  'accelerator-pedal-position-1': value(0, [{ above: 0 }], 'Idle (0 %)', OPEN),
  'accelerator-pedal-position-2': value(0, [{ above: 0 }], 'idle / limp-home', OPEN),
  'pedal-sensor-supply-returns': { safe: [OPEN, NOT_AVAILABLE], dangerous: [{ above: 0 }], says: 'that track invalid' },
  'kickdown-switch': inactive('Not active'),
  'clutch-pedal-top-switch': {
    safe: [{ do: 'substitute', level: 'active' }, NOT_AVAILABLE, OPEN],
    dangerous: [{ level: 'inactive' }],
    says: 'Treat as pressed',
  },
  'engine-speed': missing('Invalid marker', { do: 'substitute', value: 0 }),
  'vehicle-speed': missing('Invalid marker', { do: 'substitute', value: 0 }),
  'wheel-speeds': missing('Invalid'),
  'transmission-output-speed': missing('Invalid'),
  'transmission-input-speed': missing('Invalid'),
  'selected-range-display': state('invalid', ['P', 'R', 'N', 'D', 'M', 'L'], 'Display blank'),
  'current-gear': missing('Blank'),
  'gear-selector-request': {
    safe: [HOLD, NOT_AVAILABLE, { do: 'substitute', state: 'none' }, { do: 'substitute', state: 'invalid' }],
    dangerous: [{ states: ['R', 'D', 'M'] }],
    says: 'Hold last range',
  },
  'manual-shift-up': inactive('Not pressed'),
  'manual-shift-down': inactive('Not pressed'),
  'transmission-fluid-temperature': value(160, [{ below: 100 }], 'Treat as hot'),
  'torque-converter-lockup': inactive('Unlocked'),
  'shift-in-progress': inactive('No shift'),
  'reverse-lamp-command': inactive('Lamp off'),
  'reverse-gear-status': inactive('Off'),
  'park-lock-status': {
    safe: [NOT_AVAILABLE, { do: 'substitute', level: 'inactive' }, OPEN],
    dangerous: [{ level: 'active' }],
    says: 'Unknown',
  },
  'tow-haul-mode': inactive('Off'),
  'drive-mode-select': inactive('Normal'),
  'transfer-case-range': hold('Hold last range', NOT_AVAILABLE, { do: 'substitute', state: 'invalid' }),
  'four-wheel-drive-engaged': {
    safe: [{ do: 'substitute', level: 'inactive' }, HOLD, NOT_AVAILABLE, OPEN],
    dangerous: [],
    says: 'Off or as last valid',
  },
  'transfer-case-neutral-confirm': inactive('refused'),
  'engine-torque-actual': missing('Invalid'),
  'engine-torque-driver-demand': missing('Invalid'),
  'engine-torque-limits': missing('Use drag torque minimum and rated maximum'),
  'torque-reduction-request': {
    safe: [NOT_AVAILABLE, { do: 'substitute', level: 'inactive' }],
    dangerous: [{ below: 0 }],
    says: 'Request dropped',
  },
  'torque-increase-request': value(0, [{ above: 0 }], 'Zero increase'),
  'acc-torque-request': value(0, [{ above: 0 }], 'coast'),
  'steering-wheel-angle': missing('Invalid'),
  'yaw-rate': missing('Invalid'),
  'lateral-acceleration': missing('Invalid'),
  'abs-active': inactive('Not active'),
  'esc-active': inactive('Not active'),
  'esc-malfunction-telltale': LAMP_ON,
  'power-steering-load': active('Assume load'),
  'hill-start-assist': {
    safe: [{ do: 'substitute', level: 'inactive' }, NOT_AVAILABLE],
    dangerous: [],
    says: 'Release',
  },
  'cruise-on-off': inactive('Off'),
  'cruise-set-coast': inactive('Not pressed'),
  'cruise-resume-accel': inactive('Not pressed'),
  'cruise-cancel': {
    safe: [{ do: 'substitute', level: 'active' }, NOT_AVAILABLE, OPEN],
    dangerous: [{ level: 'inactive' }],
    says: 'Cancel',
  },
  'cruise-indicator': inactive('Lamp off'),
  'cruise-set-speed-display': missing('Blank'),
  'coolant-temperature': missing('Gauge to invalid'),
  'coolant-overheat-warning': LAMP_ON,
  'oil-pressure': missing('Gauge to invalid'),
  'low-oil-pressure-warning': LAMP_ON,
  'oil-temperature': missing('Blank'),
  'fuel-level': value(0, [{ above: 50 }], 'Gauge to empty side'),
  'mil-request': {
    safe: [{ do: 'substitute', state: 'on' }, { do: 'substitute', level: 'active' }, NOT_AVAILABLE],
    dangerous: [{ states: ['off'] }, { level: 'inactive' }],
    says: 'Lamp on',
  },
  'reduced-power-warning': LAMP_ON,
  'charge-indicator': LAMP_ON,
  'distance-travelled': hold('Hold last value', NOT_AVAILABLE),
  'engine-hours': hold('Hold', NOT_AVAILABLE),
  'fuel-rate': missing('Blank'),
  'wait-to-start-lamp': inactive('Lamp off'),
  'ambient-air-temperature': missing('Use intake temperature model'),
  'fuel-pump-enable': value(0, [{ above: 0 }], 'Pump off', OPEN, { do: 'substitute', level: 'inactive' }),
  'crash-fuel-cutoff': {
    safe: [{ do: 'substitute', level: 'active' }, OPEN],
    dangerous: [{ level: 'inactive' }],
    says: 'Pump off',
  },
  'airbag-deployed': hold('Hold last', NOT_AVAILABLE),
  'fuel-tank-pressure': missing('Evaporative monitor disabled'),
  'evap-vent-command': inactive('Vent open'),
  'water-in-fuel': LAMP_ON,
  'ac-request': inactive('Off'),
  'ac-pressure': missing('Compressor off'),
  'evaporator-temperature': value(-10, [{ above: 5 }], 'Compressor off'),
  'compressor-clutch': value(0, [{ above: 0 }], 'Disengaged', OPEN, { do: 'substitute', level: 'inactive' }),
  'blower-status': value(0, [], 'Assume off', { do: 'substitute', level: 'inactive' }),
  'cooling-fan-speed-request': value(100, [{ below: 50 }], 'full speed', { do: 'substitute', level: 'active' }),
  'cooling-fan-status': missing('Unknown'),
  'heater-idle-up': inactive('Off'),
  'grille-shutter-command': value(100, [{ below: 50 }], 'Open', { do: 'substitute', level: 'active' }),
  'charging-voltage-setpoint': value(
    13.8,
    [{ above: 15 }, { below: 13 }],
    'Alternator default (about 13.5..14.5 V)',
    OPEN,
  ),
  'alternator-field-command': { safe: [OPEN, NOT_AVAILABLE], dangerous: [{ above: 90 }], says: 'self-excites' },
  'alternator-field-feedback': value(100, [], 'Assume 100 % load'),
  'battery-current': missing('No smart charging'),
  'battery-voltage': missing('Use own measurement'),
  'battery-temperature': value(25, [], 'Use 25 Cel default'),
  'electrical-load-idle-up': inactive('Off'),
  'pto-enable': inactive('PTO disengaged'),
  'pto-engaged': active('assume engaged'),
  'exhaust-brake': inactive('Off'),
  'dpf-lamp': LAMP_ON,
  'exhaust-high-temperature-lamp': LAMP_ON,
  'reagent-level': value(0, [{ above: 0 }], 'Treat as empty'),
  'regeneration-request': inactive('Inhibit'),
  'vehicle-speed-limit': hold('Keep last limit', NOT_AVAILABLE),
  'obd-request': { safe: [NOT_AVAILABLE], dangerous: [], says: 'No answer' },
  'obd-response': { safe: [NOT_AVAILABLE], dangerous: [], says: 'No answer' },
  'vin-identity': missing('Mismatch'),
  'module-presence': missing('Missing'),
  'transport-service-mode': inactive('Normal mode'),
  'trailer-connected': active('Assume connected'),
};

/** The safe loss behaviour of a catalogue function; null for one that is not in the catalogue. */
export function lossOf(functionId: string | undefined): FunctionLoss | null {
  return functionId !== undefined && Object.hasOwn(LOSS, functionId) ? LOSS[functionId]! : null;
}

/** The functions whose safe loss behaviour is known, with it. */
export function functionLosses(): readonly { readonly function: VehicleFunction; readonly loss: FunctionLoss }[] {
  return [...FUNCTIONS.values()].flatMap((entry) => {
    const loss = lossOf(entry.id);
    return loss ? [{ function: entry, loss }] : [];
  });
}

const NEGATIVE =
  /^(off|no|none|not\b.*|inactive|released.*|idle|disengaged|stopped|unlocked|locked|false|normal|absent|inhibit(ed)?|invalid|open circuit|closed|shut|out|0)$/i;

/**
 * Whether a state label stands for active or inactive: by the catalogue's two states of the function (inactive first), else by the
 * raw value 0 or 1 of a two-state field, else by the word. Null when none of them tells.
 */
export function levelOfState(
  functionId: string | undefined,
  label: string,
  raw: string | null,
): 'active' | 'inactive' | null {
  const wanted = plainWord(label);
  const catalogued = functionId === undefined ? undefined : FUNCTIONS.get(functionId)?.states;
  if (catalogued?.length === 2) {
    if (plainWord(catalogued[0]!) === wanted) return 'inactive';
    if (plainWord(catalogued[1]!) === wanted) return 'active';
  }
  if (NEGATIVE.test(label.trim())) return 'inactive';
  if (raw === '0') return 'inactive';
  return raw === '1' || /^(on|yes|active|applied|pressed|true|1)$/i.test(label.trim()) ? 'active' : null;
}

function plainWord(text: string): string {
  return text.toLowerCase().replaceAll(/[^a-z0-9]+/g, '');
}
