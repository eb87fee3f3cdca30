import { EXIT, Stop } from './io.ts';
import type { ProbeOptions } from './probe-target.ts';

export const probeOpcUaCommand = async (
  _endpoint: string,
  _path: string | undefined,
  _options: ProbeOptions,
): Promise<number> => {
  throw new Stop('OPC UA servers cannot be probed yet', { exit: EXIT.usage });
};
