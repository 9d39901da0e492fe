import { type Affine } from '../number/index.ts';
/** placeholder replaced in the next commit */
export function likelySlip(explicit: Affine, exact: Affine): { readonly message: string } | null {
  return explicit === exact ? null : null;
}
