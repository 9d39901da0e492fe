/**
 * A DBC file of stated size with the usual share of everything; the same text for the same size, on every machine. At most 10 signals a
 * message.
 */
export function generateDbc(signalCount: number, signalsPerMessage = 10): string {
  const random = linearCongruence(20250101);
  const nodes = Array.from({ length: 24 }, (_, i) => `Module${i}`);
  const lines: string[] = [
    'VERSION "generated"',
    '',
    '',
    'NS_ :',
    '\tCM_',
    '\tBA_DEF_',
    '\tBA_',
    '\tVAL_',
    '',
    'BS_:',
    '',
  ];
  const details: string[] = [];
  const attributes: string[] = [];
  const states: string[] = [];
  lines.push(`BU_: ${nodes.join(' ')}`, '', '');
  for (let made = 0, message = 0; made < signalCount; message++) {
    const id = message % 5 === 0 || message >= 2048 ? 0x80000000 + 0x0cf00000 + message : message;
    const sender = nodes[message % nodes.length] as string;
    lines.push(`BO_ ${id} ${sender}_Status${message}: 8 ${sender}`);
    details.push(`CM_ BO_ ${id} "Status ${message} of ${sender}, sent in a fixed cycle while the ignition is on.";`);
    attributes.push(`BA_ "GenMsgCycleTime" BO_ ${id} ${[10, 20, 50, 100, 1000][message % 5]};`);
    for (let i = 0; i < signalsPerMessage && made < signalCount; i++, made++) {
      const name = `${['Speed', 'Torque', 'Temperature', 'Pressure', 'Request', 'Position', 'Valid'][made % 7]}_${made}`;
      const order = message % 4 === 0 ? 0 : 1;
      const start = order === 1 ? i * 6 : sawtooth(i * 6);
      const scaling = ['(1,0)', '(0.5,-40)', '(0.00390625,0)', '(0.1,-273.15)', '(1E-05,0)'][made % 5];
      const receivers = made % 3 === 0 ? `${nodes[made % 24]},${nodes[(made + 7) % 24]}` : nodes[(made + 3) % 24];
      const unit = ['', 'km/h', 'degC', '%', 'kPa', 'Nm'][made % 6];
      lines.push(
        ` SG_ ${name} : ${start}|6@${order}${made % 6 === 0 ? '-' : '+'} ${scaling} [0|${random(65536)}] "${unit}" ${receivers}`,
      );
      if (made % 2 === 0)
        details.push(`CM_ SG_ ${id} ${name} "Measured by ${sender} and filtered over ${random(500)} ms.";`);
      if (made % 3 === 0) attributes.push(`BA_ "GenSigStartValue" SG_ ${id} ${name} ${random(64)};`);
      if (made % 5 === 0) states.push(`VAL_ ${id} ${name} 0 "Off" 1 "On" 2 "Error" 3 "Not available" ;`);
    }
    lines.push('');
  }
  const definitions = [
    'BA_DEF_ BO_  "GenMsgCycleTime" INT 0 65535;',
    'BA_DEF_ SG_  "GenSigStartValue" FLOAT -1E+10 1E+10;',
    'BA_DEF_DEF_  "GenMsgCycleTime" 0;',
    'BA_DEF_DEF_  "GenSigStartValue" 0;',
  ];
  return [...lines, ...details, ...definitions, ...attributes, ...states, ''].join('\n');
}

/** Bit number of the n-th bit counted from the most significant of byte 0. */
function sawtooth(n: number): number {
  return n - (n % 8) + 7 - (n % 8);
}

function linearCongruence(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}
