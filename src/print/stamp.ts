import { createHash } from 'node:crypto';
import { keyFingerprint } from '../record/index.ts';
import type { WindowReport } from '../report/index.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';

/** What ties every page to the log: whoever holds the paper can tell whether the log is still the one it was printed from. */
export interface Stamp {
  /** Short fingerprint of the latest checkpoint, in groups of four. */
  readonly fingerprint?: string;
  /** Short fingerprint of the key that signed it. */
  readonly key?: string;
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Of the checkpoint that the report was made from; a log without keys has no key. */
export const stampOf = ({ checkpoint }: WindowReport): Stamp => ({
  ...(checkpoint?.fingerprint !== undefined && { fingerprint: checkpoint.fingerprint }),
  ...(checkpoint?.key !== undefined && { key: keyFingerprint(sha256, checkpoint.key) }),
});

const SIZE = 7.2;

/** The foot of a page: what it is and which log it shows on the left, its number on the right. */
export const drawFoot = (
  press: Press,
  what: string,
  { fingerprint, key }: Stamp,
  page: number,
  pages: number,
): void => {
  const y = press.bottom + 10;
  press.doc
    .moveTo(press.left, y)
    .lineTo(press.right, y)
    .undash()
    .lineWidth(0.6)
    .strokeColor(INK.soft)
    .stroke();
  const number = `page ${page} of ${pages}`;
  const room = press.width - press.widthOf(number, 'bold', SIZE) - 16;
  press.put(press.short(what, room, SIZE), press.left, y + 11, { size: SIZE, colour: INK.soft });
  press.put(number, press.right, y + 11, { size: SIZE, face: 'bold', anchor: 'end' });
  const log = `checkpoint ${fingerprint ?? 'not stated'} · key ${key ?? 'not stated'}`;
  press.put(log, press.left, y + 21, { size: SIZE, colour: INK.ink });
};
