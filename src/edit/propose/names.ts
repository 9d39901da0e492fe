/** Words that vehicle makers shorten, each to one spelling (common practice). */
const SHORTHAND: Readonly<Record<string, string>> = {
  eng: 'engine',
  engn: 'engine',
  spd: 'speed',
  rpm: 'speed',
  veh: 'vehicle',
  vehspd: 'vehicle',
  whl: 'wheel',
  temp: 'temperature',
  tmp: 'temperature',
  clt: 'coolant',
  cool: 'coolant',
  clnt: 'coolant',
  press: 'pressure',
  prs: 'pressure',
  pres: 'pressure',
  trq: 'torque',
  tq: 'torque',
  req: 'request',
  rq: 'request',
  cmd: 'command',
  sts: 'status',
  stat: 'status',
  st: 'status',
  pos: 'position',
  ped: 'pedal',
  acc: 'accelerator',
  accel: 'accelerator',
  brk: 'brake',
  sw: 'switch',
  swt: 'switch',
  gr: 'gear',
  trans: 'transmission',
  trn: 'transmission',
  tx: 'transmission',
  lvl: 'level',
  ind: 'lamp',
  indicator: 'lamp',
  telltale: 'lamp',
  lmp: 'lamp',
  warn: 'warning',
  batt: 'battery',
  bat: 'battery',
  volt: 'voltage',
  vltg: 'voltage',
  cur: 'current',
  curr: 'current',
  amb: 'ambient',
  evap: 'evaporator',
  ac: 'conditioning',
  hvac: 'conditioning',
  comp: 'compressor',
  clu: 'clutch',
  cltch: 'clutch',
  crz: 'cruise',
  crs: 'cruise',
  dist: 'distance',
  odo: 'distance',
  odometer: 'distance',
  rng: 'range',
  prndl: 'range',
  sel: 'selected',
  act: 'actual',
  dmd: 'demand',
  fan: 'fan',
  mil: 'malfunction',
  rev: 'reverse',
  pn: 'neutral',
  lat: 'lateral',
  yaw: 'yaw',
};

/** Words which tell nothing apart. */
const IDLE = new Set([
  'the',
  'of',
  'and',
  'signal',
  'value',
  'val',
  'sig',
  'msg',
  'message',
  'data',
  'info',
  'to',
  'a',
]);

/** The words of a name: `EngSpd_Act` → engine, speed, actual. */
export function wordsOf(name: string): ReadonlySet<string> {
  const parts = name
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .replace(/([A-Z]+)([A-Z][a-z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .map((word) => SHORTHAND[word] ?? word.replace(/(?<=..)s$/, ''))
    .filter((word) => word.length > 0 && !IDLE.has(word));
  return new Set(parts);
}

/** Share of words two names have in common, 0 to 1. */
export function nameLikeness(a: ReadonlySet<string>, b: ReadonlySet<string>): number {
  if (a.size === 0 || b.size === 0) return 0;
  let common = 0;
  for (const word of a) if (b.has(word)) common += 1;
  return common / (a.size + b.size - common);
}
