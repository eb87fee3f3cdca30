/** Against servers that this project did not write: Debian's libmodbus (C) and python3-pymodbus, over TCP. */
import { expect, test } from 'vitest';
import { PEERS, portOf } from '../../servers/peers.ts';
import { signalAt, watch } from './rig.ts';

for (const peer of PEERS) {
  const title = peer.there ? peer.name : `${peer.name} (skipped: ${peer.reason})`;
  test.skipIf(!peer.there)(
    `${title}: all four tables read right; an address out of range is refused`,
    { timeout: 30_000 },
    async () => {
      const child = peer.start();
      const port = await portOf(child);
      const signals = [
        signalAt(0, 'holding', 0),
        signalAt(1, 'holding', 599),
        signalAt(2, 'input', 5),
        signalAt(3, 'coil', 3),
        signalAt(4, 'coil', 4),
        signalAt(5, 'discrete-input', 6),
        signalAt(6, 'holding', 5_000),
      ];
      const open = watch(port, signals, { timeout: 2_000_000 });
      const kinds = (answers: typeof open.answers, kind: string) =>
        new Set(
          answers.filter((one) => one.kind === kind).map((one) => ('request' in one ? one.request : -1)),
        );
      await open.until(
        (answers) => kinds([...answers], 'words').size === 5 && kinds([...answers], 'nothing').size >= 1,
      );
      await open.source.stop();
      child.kill();
      const found = new Map(
        open.answers.flatMap((one) => (one.kind === 'words' ? [[one.request, one.words] as const] : [])),
      );
      const values = [...found.values()].map((one) => one.join());
      expect(values.sort()).toEqual(['1000', '1599', '2005', '1,0', '1'].sort());
      const refused = open.answers.filter((one) => one.kind === 'nothing' && one.why === 'refused');
      expect(refused.every((one) => one.kind === 'nothing' && one.code === 2)).toBe(true);
      expect(refused.length).toBeGreaterThan(0);
    },
  );
}
