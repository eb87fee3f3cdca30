import { windowPath } from '../../state/api.ts';

interface TraceWish {
  readonly window: string;
  readonly signals: readonly string[];
  /** Seconds after the opening. */
  readonly from: number;
  readonly to: number;
  readonly width: number;
}

export const tracePath = ({ window, signals, from, to, width }: TraceWish): string => {
  const query = new URLSearchParams({
    signals: signals.join(','),
    from: String(Math.round(from * 1e6)),
    to: String(Math.round(to * 1e6)),
    width: String(width),
  });
  return `${windowPath(window)}/trace?${query}`;
};
