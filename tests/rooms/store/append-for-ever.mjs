/**
 * Appends to a log until it is killed and says every acknowledgement: `number first size`, one a line.
 * Arguments: folder of the compiled files, path of the log.
 */

import { writeSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const [dist, path] = process.argv.slice(2);
const { openLog, sha256 } = await import(pathToFileURL(join(dist, 'store/index.js')).href);
const log = await openLog(path);
const say = (line) => writeSync(1, `${line}\n`);
say('ready');
for (let number = 0; ; number += 1) {
  const bytes = Buffer.from(`${process.pid} ${number} `.repeat(200));
  const draft = (kind, body) => ({
    version: 1,
    kind,
    subject: 'w-1',
    actor: 'daemon',
    utc: '2026-11-25T09:30:00.000000Z',
    monotonic: number,
    boot: String(process.pid),
    body,
  });
  const entries = [draft('trace', { block: sha256(bytes) }), draft('mark', { number })];
  const { first, size } = await log.append({ entries, blocks: [bytes] });
  say(`${number} ${first} ${size}`);
}
