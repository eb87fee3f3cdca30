/** What part of time is shown, in seconds after the zero of the plot. While it follows, only its width counts. */
export interface View {
  readonly from: number;
  readonly to: number;
  readonly follows: boolean;
}

/** Between which instants there is anything, and how far one may look in. */
export interface Reach {
  readonly from: number;
  readonly to: number;
}

const LEAST_WIDTH = 0.05;

export const widthOf = ({ from, to }: View): number => to - from;

const within = (from: number, to: number, reach: Reach, follows: boolean): View => {
  const most = Math.max(LEAST_WIDTH, reach.to - reach.from);
  const width = Math.min(most, Math.max(LEAST_WIDTH, to - from));
  const middle = (from + to) / 2;
  const least = Math.min(Math.max(reach.from, middle - width / 2), reach.to - width);
  return { from: least, to: least + width, follows };
};

/** `factor` below 1: nearer. `around` stays where it is on the screen; the newest edge does while it follows. */
export const zoomed = (view: View, factor: number, around: number, reach: Reach): View => {
  const about = view.follows ? view.to : around;
  const from = about - (about - view.from) * factor;
  const to = about + (view.to - about) * factor;
  return within(from, to, reach, view.follows);
};

/** Whoever looks elsewhere no longer follows. */
export const moved = (view: View, seconds: number, reach: Reach): View =>
  within(view.from + seconds, view.to + seconds, reach, false);

export const whole = (reach: Reach): View => ({ ...reach, follows: false });

/** The same width, with `t` in it. */
export const showing = (view: View, t: number, reach: Reach): View => {
  if (t >= view.from && t <= view.to) return view;
  const half = widthOf(view) / 2;
  return within(t - half, t + half, reach, false);
};
