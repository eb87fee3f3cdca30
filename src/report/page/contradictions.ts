import { instant } from '../../measure/index.ts';
import { formatTime, text } from '../../words/index.ts';
import { escaped } from '../markup.ts';
import type { WindowReport } from '../types.ts';

/** A contradiction as it is told: by shape and word, not by colour alone. */
export interface Told {
  readonly dangerous: boolean;
  readonly mark: '▲ DANGER' | '◇ NOTE';
  /** Seconds after the window opened, and the time of day. */
  readonly seconds: string;
  readonly time: string;
  readonly sentence: string;
}

/** The contradictions of a window, in order of time, the dangerous ones first. */
export const contradictionsTold = (report: WindowReport): readonly Told[] =>
  [...(report.contradictions ?? [])]
    .sort((a, b) => Number(b.dangerous) - Number(a.dangerous) || a.at - b.at)
    .map(({ at, dangerous, reason }) => ({
      dangerous,
      mark: dangerous ? '▲ DANGER' : '◇ NOTE',
      seconds: `${at.toFixed(1)} s`,
      time: formatTime(instant(report.opened + Math.round(at * 1e6))),
      sentence: text(reason),
    }));

const rowHtml = ({ dangerous, mark, seconds, time, sentence }: Told): string => {
  const [sign = '', word = ''] = mark.split(' ');
  return `<li class="${dangerous ? 'tw-danger' : 'tw-note'}"><strong class="tw-sign-word"><span aria-hidden="true">${sign} </span>${word}</strong> <span class="tw-num">${escaped(seconds)}</span> <span class="tw-sub tw-num">${escaped(time)}</span><p>${escaped(sentence)}</p></li>`;
};

/** What was seen that cannot both be right; '' where nothing was. `prefix` stands before its id. */
export const contradictionsHtml = (report: WindowReport, prefix = ''): string => {
  const told = contradictionsTold(report);
  if (told.length === 0) return '';
  return `<section aria-labelledby="${prefix}contradictions"><h2 id="${prefix}contradictions">What cannot both be right</h2><ul class="tw-contradictions">${told.map(rowHtml).join('')}</ul></section>`;
};
