/** How a map names a file: the way from the map's folder to it, with forward slashes. The inverse of `beside`. */
export function linkFrom(mapPath: string, path: string): string {
  const from = mapPath.split(/[\\/]/).slice(0, -1);
  const to = path.split(/[\\/]/);
  let shared = 0;
  while (shared < from.length && shared < to.length - 1 && from[shared] === to[shared]) shared += 1;
  return [...from.slice(shared).map(() => '..'), ...to.slice(shared)].join('/');
}
