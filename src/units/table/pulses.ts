import { PI, type Row, SI, rowsOf } from './row.ts';

const PULSE = 'pulses counted per distance or per turn, declared here';

/** Pulses per distance and per turn: parameters of speed and odometer pulse trains. */
export const PULSES: readonly Row[] = [
  ...rowsOf('pulses-per-distance', [
    ['{pulse}/m', 'pulse per metre', 'pulse/m', '1', PULSE],
    ['{pulse}/km', 'pulse per kilometre', 'pulse/km', '0.001', PULSE],
    ['{pulse}/[mi_i]', 'pulse per mile', 'pulse/mi', '1/1609.344', PULSE],
  ]),
  ...rowsOf('pulses-per-revolution', [
    ['{pulse}/{rev}', 'pulse per revolution', 'pulse/rev', `1/2/${PI.replace('/', '*')}`, PULSE],
    ['{pulse}/rad', 'pulse per radian', 'pulse/rad', '1', SI],
  ]),
];
