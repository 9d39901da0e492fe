// The map of generate-replay.ts as somebody would write it by hand in plain TypeScript: doubles, a decode on reception, an encode when
// a message is due. It is what the replay engine is measured against, and it knows nothing of the map but what is written here.

export interface Gateway {
  onFrame(frameId: number, data: Uint8Array, timeUs: number): void;
  advanceTo(timeUs: number): void;
}

const CYCLES_US = [10_000, 10_000, 20_000, 20_000, 50_000, 100_000];
const PERIOD_US = 10_000;

class Message {
  rpm = NaN;
  speed = NaN;
  temperature = NaN;
  volt = NaN;
  pressure = NaN;
  receivedUs = -Infinity;
  dueUs = 0;
  readonly out = new Uint8Array(8);
  constructor(
    readonly cycleUs: number,
    readonly frameId: number,
  ) {}
}

/** Forty messages of five signals each. */
export function handWrittenGateway(send: (frameId: number, data: Uint8Array, timeUs: number) => void): Gateway {
  const messages = Array.from({ length: 40 }, (_, k) => new Message(CYCLES_US[k % 6]!, 0x300 + k));
  let nextUs = 0;

  function encode(m: Message, nowUs: number): void {
    let rpm: number;
    let speed: number;
    let temperature: number;
    let volt: number;
    let pressure: number;
    if (nowUs - m.receivedUs > 10 * m.cycleUs) {
      rpm = 0;
      speed = 0;
      temperature = 120;
      volt = 0;
      pressure = 0;
    } else {
      rpm = Number.isNaN(m.rpm) ? 65535 : Math.min(65534, Math.round(m.rpm / 0.25));
      speed = Number.isNaN(m.speed) ? 65535 : Math.min(65534, Math.round(m.speed / 1.609344 / 0.01));
      temperature = Number.isNaN(m.temperature)
        ? 1023
        : Math.min(1022, Math.round((m.temperature * 1.8 + 32 + 60) / 0.5));
      volt = Math.min(1023, Math.round(m.volt / 0.04));
      pressure = Math.min(4095, Math.round(m.pressure / 6.894757293168361 / 0.1));
    }
    const { out } = m;
    out[0] = rpm;
    out[1] = rpm >> 8;
    out[2] = speed;
    out[3] = speed >> 8;
    out[4] = temperature;
    out[5] = (temperature >> 8) | (volt << 2);
    out[6] = (volt >> 6) | (pressure << 4);
    out[7] = pressure >> 4;
  }

  function tick(nowUs: number): void {
    for (const m of messages) {
      if (nowUs < m.dueUs) continue;
      m.dueUs += m.cycleUs;
      encode(m, nowUs);
      send(m.frameId, m.out, nowUs);
    }
  }

  function run(untilUs: number): void {
    while (nextUs < untilUs) {
      tick(nextUs);
      nextUs += PERIOD_US;
    }
  }

  return {
    onFrame(frameId, data, timeUs) {
      run(timeUs);
      const m = messages[frameId - 0x100];
      if (m === undefined) return;
      const rpm = data[0]! | (data[1]! << 8);
      m.rpm = rpm === 65535 ? NaN : rpm * 0.125;
      const speed = data[2]! | (data[3]! << 8);
      m.speed = speed === 65535 ? NaN : speed * 0.01;
      m.temperature = data[4]! === 255 ? NaN : data[4]! - 40;
      m.volt = (data[5]! | ((data[6]! & 0x0f) << 8)) * 0.01;
      m.pressure = ((data[6]! >> 4) | (data[7]! << 4)) * 0.5;
      m.receivedUs = timeUs;
    },
    advanceTo(timeUs) {
      run(timeUs);
    },
  };
}
