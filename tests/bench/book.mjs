/** A book of so many under-speed stops, a machine and three signals each. */
const S = 1_000_000;

export const bookOf = (count) => {
  const signals = [];
  const interlocks = [];
  const machines = [];
  const add = (name, states, unit) => {
    const id = signals.length;
    signals.push({
      id,
      name,
      source: 0,
      address: { kind: 'trace' },
      decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
      quantity: unit ? 'rotational-speed' : 'state',
      unit,
      states,
      resolution: 0.1,
      accuracy: 0,
      age: 0,
      agedAfter: 2 * S,
    });
    return id;
  };
  for (let index = 0; index < count; index += 1) {
    const [speed, run, running] = [
      add(`M${index}.speed`, [], 'rpm'),
      add(`M${index}.run`, ['stop', 'run'], ''),
      add(`M${index}.running`, ['stopped', 'running'], ''),
    ];
    machines.push({
      index,
      name: `M${index}`,
      title: '',
      kind: '',
      roles: {},
      normals: [{ signal: speed, from: { kind: 'declared', value: { low: 96, high: 96 } }, allowance: 0.05 }],
      stops: [],
      resets: [],
      starts: [],
      bypasses: [],
      forces: [],
      tripped: [],
      running: [],
      outputs: [run],
      feeds: [],
    });
    const of = (factor) => ({ of: 'normal', factor, offset: 0 });
    interlocks.push({
      id: index,
      name: `M${index}.stop`,
      machine: index,
      hazard: '',
      title: '',
      cause: {
        kind: 'level',
        signal: speed,
        side: 'below',
        setPoint: of(0.82),
        tolerance: of(0.015),
        clears: of(0.85),
      },
      delay: { time: S, tolerance: 0.2 * S, onReturn: 'resets' },
      armed: { when: [{ signal: running, state: 1 }], after: 2 * S },
      effects: [
        {
          name: 'run',
          signal: run,
          becomes: { kind: 'state', state: 0 },
          class: 'command',
          within: 1.5 * S,
          notBefore: 0,
          after: [],
          until: 'unstated',
          cascade: false,
        },
      ],
      baseline: 2 * S,
      dwell: S,
    });
  }
  return {
    site: 'bench',
    title: '',
    sources: [{ protocol: 'trace', name: 't', scan: 0, scanConsistent: false }],
    signals,
    machines,
    interlocks,
  };
};

/** The same book on Modbus devices, so many signals of it on each, one register a signal; speeds in tenths. */
export const onDevices = (book, devices, perDevice) => ({
  ...book,
  sources: Array.from({ length: devices }, (_, index) => ({
    protocol: 'modbus',
    name: `d${index}`,
    line: { kind: 'tcp', host: '', port: 502 },
    unit: 1,
    poll: 0.1 * S,
    windowPoll: 0.1 * S,
    slowPoll: S,
    inFlight: 1,
    pause: 0,
    connection: 'shared',
    timeout: S,
    scan: 20_000,
    scanConsistent: true,
    maxRegisters: 125,
    maxBits: 2_000,
    maxGap: 0,
  })),
  signals: book.signals.map((signal, index) => ({
    ...signal,
    source: Math.floor(index / perDevice),
    address: { kind: 'modbus', table: 'holding', at: index % perDevice },
    decoding: {
      as: 'number',
      type: 'uint16',
      order: 'ABCD',
      scale: signal.unit === '' ? 1 : 0.1,
      offset: 0,
      faults: [],
    },
  })),
});
