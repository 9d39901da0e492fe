const SAFE = BigInt(Number.MAX_SAFE_INTEGER);

/** Greatest common divisor, never negative; 0 only for two zeros. */
export function gcdOf(a: bigint, b: bigint): bigint {
  let x = a < 0n ? -a : a;
  let y = b < 0n ? -b : b;
  if (x === 1n || y === 1n) return 1n;
  while (y > SAFE || x > SAFE) {
    if (y === 0n) return x;
    [x, y] = [y, x % y];
  }
  let small = Number(x);
  let other = Number(y);
  while (other !== 0) [small, other] = [other, small % other];
  return BigInt(small);
}

/** Least common multiple of two positive whole numbers. */
export function lcmOf(a: bigint, b: bigint): bigint {
  return (a / gcdOf(a, b)) * b;
}
