export function Strip() {
  return <section className="strip" />;
}
