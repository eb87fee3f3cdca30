import type { EnteredNow, Entering } from '../../api/index.ts';
import { formatUtc } from '../../measure/index.ts';
import { type LogPlace, openLog, passwordsOf } from '../../store/index.ts';
import { createClock } from '../clock.ts';
import { createLogbook } from '../logbook.ts';
import { createDesk } from './desk.ts';
import { lookAt } from './look.ts';

/**
 * Enters in a log that no daemon writes now. Rejects with a LogError (`in-use` where one does), with `Declined` where a
 * rule of the record is against it. `place`: where the site key is kept.
 */
export const enterAtFile = async (
  path: string,
  request: Entering,
  place: LogPlace = {},
): Promise<EnteredNow> => {
  const log = await openLog(path, place);
  const clock = createClock();
  let broken: unknown;
  const logbook = createLogbook(log, clock, `${process.pid}-${clock.now()}`, (error) => {
    broken = error;
  });
  const desk = createDesk({
    logbook,
    look: async (question) => lookAt(path, question),
    passwords: (id) => passwordsOf(path, id),
    utc: () => formatUtc(clock.now()),
    atTheFile: true,
  });
  try {
    return await desk.enter(request);
  } finally {
    await logbook.close();
    if (broken !== undefined) await Promise.reject(broken);
  }
};
