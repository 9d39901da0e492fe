import { hostContract, type HostMethod } from '../../src/host/interface/contract.ts';
import { channelOf } from './names.ts';

/** One channel a call of the host contract; main checks every input against the contract before anything else happens. */
export const CALL_CHANNELS: readonly { readonly method: HostMethod; readonly channel: string }[] = (
  Object.keys(hostContract) as HostMethod[]
).map((method) => ({ method, channel: channelOf(method) }));
