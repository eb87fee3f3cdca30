import { EXIT, json, out, Stop } from './io.ts';

export interface PlantCommandOptions {
  readonly json: boolean;
  readonly fault?: string;
  readonly seed: string;
  readonly modbusPort: string;
  readonly opcuaPort: string;
  readonly handsPort: string;
  readonly opcua: boolean;
  readonly opcuaPki?: string;
  readonly list?: boolean;
}

/** The simulated plant on loopback sockets, until it is told to stop. */
export const plantCommand = async (options: PlantCommandOptions): Promise<number> => {
  const { FAULTS, isFault, startPlant } = await import('../plant/index.ts');
  if (options.list) {
    if (options.json) json(FAULTS);
    else for (const [name, text] of Object.entries(FAULTS)) out(`${name.padEnd(26)}${text}`);
    return EXIT.ok;
  }
  const { fault } = options;
  if (fault !== undefined && !isFault(fault)) {
    throw new Stop(`there is no fault "${fault}"; there are: ${Object.keys(FAULTS).join(', ')}`, {
      exit: EXIT.usage,
    });
  }
  const plant = await startPlant({
    seed: Number(options.seed),
    modbusPort: Number(options.modbusPort),
    handsPort: Number(options.handsPort),
    ...(options.opcua && { opcuaPort: Number(options.opcuaPort) }),
    ...(options.opcuaPki !== undefined && { opcuaGuard: { pki: options.opcuaPki } }),
    ...(fault !== undefined && { fault }),
  });
  const places = { modbus: plant.modbus, opcua: plant.opcua ?? null, hands: plant.hands };
  if (options.json) out(JSON.stringify(places));
  else {
    out('Simulated plant: bucket elevator E1 with feeder F1, belt conveyor C2. It moves nothing real.');
    out(`  Modbus TCP  ${plant.modbus.host}:${plant.modbus.port}, unit 1`);
    if (plant.opcua) out(`  OPC UA      ${plant.opcua.endpoint}`);
    out(
      `  hands       ${plant.hands.host}:${plant.hands.port}, a line of JSON each, e.g. {"do":"start","machine":"E1"}`,
    );
    out('End it with Ctrl-C.');
  }
  await new Promise<void>((resolve) => {
    process.once('SIGTERM', resolve);
    process.once('SIGINT', resolve);
  });
  await plant.stop();
  return EXIT.ok;
};
