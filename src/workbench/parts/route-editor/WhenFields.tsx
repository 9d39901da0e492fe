import type { Condition, Pairing } from '../../../model/index.ts';

/** A condition after a choice was ticked or cleared; an axis with every choice is left out. Undefined: always. */
export function conditionWith(
  when: Condition | undefined,
  axis: { readonly id: string; readonly choices: readonly string[] },
  choice: string,
  isOn: boolean,
): Condition | undefined {
  const before = when?.[axis.id] ?? axis.choices;
  const after = axis.choices.filter((each) => (each === choice ? isOn : before.includes(each)));
  const { [axis.id]: _own, ...rest } = when ?? {};
  const next: Condition = after.length === axis.choices.length ? rest : { ...rest, [axis.id]: after };
  return Object.keys(next).length === 0 ? undefined : next;
}

/** The builds a route is for, as check boxes by option. The last choice of an option cannot be cleared. */
export function WhenFields({
  pairing,
  when,
  onWhen,
}: {
  readonly pairing: Pairing;
  readonly when: Condition | undefined;
  readonly onWhen: (when: Condition | undefined) => string | null;
}) {
  const axes = pairing.map.options ?? [];
  if (axes.length === 0) return null;
  return (
    <section>
      <h3>For the builds</h3>
      {axes.map((axis) => {
        const chosen = when?.[axis.id] ?? axis.choices;
        return (
          <fieldset key={axis.id} className="when-axis">
            <legend>{axis.title ?? axis.id}</legend>
            {axis.choices.map((choice) => {
              const isOn = chosen.includes(choice);
              return (
                <label key={choice} className="tick">
                  <input
                    type="checkbox"
                    checked={isOn}
                    disabled={isOn && chosen.length === 1}
                    onChange={() => onWhen(conditionWith(when, axis, choice, !isOn))}
                  />
                  {choice}
                </label>
              );
            })}
          </fieldset>
        );
      })}
    </section>
  );
}
