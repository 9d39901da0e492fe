/** `01-least`: the number keeps the order, the words are for people. */
export function vectorId(number: number, name: string): string {
  const words = name
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-|-$/g, '')
    .slice(0, 60);
  return `${String(number).padStart(2, '0')}-${words === '' ? 'case' : words}`;
}
