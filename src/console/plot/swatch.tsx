import { colourPlace, dashOf } from './palette.ts';

interface LineSampleProps {
  readonly place: number;
  readonly second: boolean;
}

/** A piece of a line as it is drawn. */
export const LineSample = ({ place, second }: LineSampleProps) => (
  <svg
    class={`line-sample line-${colourPlace(place) + 1}`}
    viewBox="0 0 34 8"
    width="34"
    height="8"
    aria-hidden="true"
  >
    <path d="M0 4h34" stroke-dasharray={dashOf(place, second).join(' ')} />
  </svg>
);
