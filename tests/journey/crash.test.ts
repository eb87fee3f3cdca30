/** kill -9 of the daemon during a window: nothing acknowledged is lost, the log verifies, the window is interrupted. */
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readLog } from '../../src/store/index.ts';
import { cli, daemonUp, folder, type PlantUp, plantUp } from './rig.ts';

const TIMES = Number(process.env['TRIPWITNESS_KILLS'] ?? '3');
let plant: PlantUp;
beforeAll(async () => {
  plant = await plantUp();
});
afterAll(async () => {
  plant.hands.close();
  await plant.end();
});

test(`killed ${TIMES} times during a window`, { timeout: 600_000 }, async () => {
  const log = join(folder(), 'crash.log.db');
  const windows: string[] = [];
  const acknowledged: number[] = [];
  for (let time = 0; time < TIMES; time += 1) {
    const daemon = await daemonUp(log, plant.modbus.port);
    const { window } = await daemon.client.open({
      stimuli: [{ interlock: 'E1.bearing-alarm', method: 'heated' }],
    });
    windows.push(window);
    // A different number of acknowledged marks each time, then the kill falls into the writing of another.
    for (let mark = 0; mark <= time % 5; mark += 1) {
      acknowledged.push(
        (await daemon.client.mark(window, { code: 'now', by: 'one', text: `${time}.${mark}` })).entry,
      );
    }
    void daemon.client
      .mark(window, { code: 'now', by: 'one', text: 'not acknowledged' })
      .catch(() => undefined);
    await daemon.end('SIGKILL');
    expect(cli('audit', log).code).toBe(0);
  }
  const last = await daemonUp(log, plant.modbus.port);
  expect(await last.end()).toBe(0);
  expect(cli('audit', log).code).toBe(0);
  const reader = readLog(log);
  const entries = reader.parsed();
  reader.close();
  const texts = entries.flatMap((entry) => (entry.kind === 'mark' ? [JSON.stringify(entry.body)] : []));
  for (let time = 0; time < TIMES; time += 1) {
    for (let mark = 0; mark <= time % 5; mark += 1)
      expect(texts.some((text) => text.includes(`"${time}.${mark}"`))).toBe(true);
  }
  for (const window of windows) {
    const own = entries.filter((entry) => entry.subject === window);
    expect(own.some((entry) => entry.kind === 'window-interrupted')).toBe(true);
    expect(own.some((entry) => entry.kind === 'verdict')).toBe(false);
    const report = cli('report', log, '--window', window, '--json');
    expect(report.code).toBe(2);
  }
  expect(acknowledged.every((entry) => entry <= entries.length)).toBe(true);
});
