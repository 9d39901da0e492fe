export { wiringSpec } from './wiring-spec.ts';
