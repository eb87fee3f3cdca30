import type { RegisterItemNow } from '../api/index.ts';
import { formatUtc, instant } from '../measure/index.ts';
import { type EnteringOptions, enterIn, toldEntered } from './entering.ts';
import { hung } from './hung.ts';
import { EXIT, json, out } from './io.ts';
import { type WhoOptions, whoOf } from './password.ts';
import { requestOf } from './request.ts';

export interface OpenOptions extends EnteringOptions, WhoOptions {
  readonly on?: string;
  readonly text?: string;
  readonly until?: string;
  readonly due?: string;
  readonly since?: string;
  readonly hours?: string;
  readonly reason?: string;
  readonly risk?: string;
  readonly approver?: string;
  readonly precautions?: string;
  readonly notified: readonly string[];
  readonly category?: string;
  readonly owner?: string;
  readonly window?: string;
}

/** Opens a deferral, an impairment, a punch item or a bypass. */
export const openItemCommand = async (log: string, item: string, options: OpenOptions): Promise<number> => {
  const {
    on = '',
    text = '',
    until,
    due,
    since,
    reason,
    risk,
    approver,
    precautions,
    category,
    owner,
    window,
  } = options;
  const entered = await enterIn(
    log,
    requestOf({
      do: 'register-open',
      who: await whoOf(options),
      item,
      on,
      text,
      until,
      due,
      since,
      hours: options.hours === undefined ? undefined : Number(options.hours),
      reason,
      risk,
      approver,
      precautions,
      notified: options.notified.length === 0 ? undefined : options.notified,
      category,
      owner,
      window,
    }),
    options,
  );
  return toldEntered(entered, options, `${String(entered.body['id'])} is open on ${on}`);
};

export interface StepOptions extends EnteringOptions, WhoOptions {
  readonly text?: string;
  readonly window?: string;
}

/** Enters a note on an item, or closes it. */
export const stepCommand = async (
  action: 'noted' | 'closed',
  log: string,
  id: string,
  options: StepOptions,
): Promise<number> => {
  const { text = '', window } = options;
  const asked = { do: 'register-step', who: await whoOf(options), id, action, text, window };
  const entered = await enterIn(log, requestOf(asked), options);
  return toldEntered(entered, options, action === 'closed' ? `${id} is closed` : `noted on ${id}`);
};

const day = (utc: string): string => utc.slice(0, 16).replace('T', ' ');

const span = (seconds: number): string =>
  seconds < 172_800 ? `${Math.ceil(seconds / 3_600)} h` : `${Math.floor(seconds / 86_400)} days`;

const headOf = ({ id, category, on, standing, limit, over, closed }: RegisterItemNow): string => {
  const kind = category === undefined ? id : `${id} (${category})`;
  if (standing === 'closed') return `${kind} on ${on}: closed ${day(closed ?? '')}`;
  const until = limit === undefined ? 'without a limit' : `until ${day(limit)}`;
  return `${kind} on ${on}: OPEN ${until}${over > 0 ? `, OVER by ${span(over)}` : ''}`;
};

const detailsOf = (life: RegisterItemNow): readonly (readonly [string, string | undefined])[] => [
  ['reason', life.reason],
  ['risk', life.risk],
  ['approved by', life.approver],
  ['precautions', life.precautions],
  ['notified', life.notified?.join(', ')],
  ['owner', life.owner],
];

const linesOf = (life: RegisterItemNow): string[] => [
  ...hung(headOf(life), '', '  '),
  ...detailsOf(life).flatMap(([name, value]) =>
    value === undefined ? [] : hung(`${name}: ${value}`, '    ', '      '),
  ),
  ...life.steps.flatMap(({ utc, by, action, text, window }) =>
    hung(
      `${day(utc)} ${action} by ${by}: ${text}${window === undefined ? '' : ` (${window})`}`,
      '    ',
      '      ',
    ),
  ),
];

/** The register of a log, and the bypasses that windows tell of; exit 1 where something open is over its limit. */
export const listItemsCommand = async (
  log: string,
  options: { readonly json: boolean; readonly open: boolean },
): Promise<number> => {
  const { lookAt } = await import('../daemon/index.ts');
  const utc = formatUtc(instant(Date.now() * 1_000));
  const all = lookAt(log, { ask: 'register', utc });
  const items = all.filter(({ standing }) => !options.open || standing === 'open');
  const bypasses = options.open ? [] : lookAt(log, { ask: 'bypasses' });
  if (options.json) json({ items, bypasses });
  else {
    for (const life of items) out(linesOf(life).join('\n'));
    if (items.length === 0) out(options.open ? 'Nothing is open.' : 'The register is empty.');
    for (const { utc: at, how, on, window, text } of bypasses)
      out(
        hung(
          `bypass ${how} on ${on}, ${day(at)}${window === '' ? '' : ` in ${window}`}: ${text}`,
          '',
          '  ',
        ).join('\n'),
      );
  }
  return items.some(({ over }) => over > 0) ? EXIT.fail : EXIT.ok;
};
