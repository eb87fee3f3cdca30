import type { LevelsNow } from '../../api/index.ts';

interface GaugeProps {
  readonly value?: { readonly low: number; readonly high: number };
  readonly levels: readonly LevelsNow[];
}

const WIDE = 300;
const HIGH = 22;

/**
 * A number line: where the value lies between its levels. Normal is dotted, a set point is a hatched band, a limit a
 * full line, the value a bar. All of it stands in words beside it.
 */
export const Gauge = ({ value, levels }: GaugeProps) => {
  const marks = levels.flatMap(({ normal, setPoint, allowed, limit }) => [
    normal,
    allowed ?? setPoint,
    limit,
  ]);
  const known = [value, ...marks].flatMap((one) => (one === undefined ? [] : [one.low, one.high]));
  if (known.length < 4) return null;
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const room = (most - least) * 0.08 || 1;
  const at = (level: number): number => ((level - least + room) / (most - least + 2 * room)) * WIDE;
  const width = (low: number, high: number): number => Math.max(2, at(high) - at(low));
  return (
    <svg class="gauge" viewBox={`0 0 ${WIDE} ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
      <line class="axis" x1="0" x2={WIDE} y1={HIGH - 3} y2={HIGH - 3} />
      {levels.map(({ normal, setPoint, allowed, limit }, index) => {
        const band = allowed ?? setPoint;
        const key = `level ${index}`;
        return (
          <g key={key}>
            {band !== undefined && (
              <rect
                class="band"
                x={at(band.low)}
                width={width(band.low, band.high)}
                y="2"
                height={HIGH - 5}
              />
            )}
            {normal !== undefined && (
              <line class="normal" x1={at(normal.low)} x2={at(normal.low)} y1="2" y2={HIGH - 3} />
            )}
            {limit !== undefined && (
              <line class="limit" x1={at(limit.low)} x2={at(limit.low)} y1="0" y2={HIGH} />
            )}
          </g>
        );
      })}
      {value !== undefined && (
        <rect
          class="value"
          x={at(value.low) - 2}
          width={width(value.low, value.high) + 4}
          y="5"
          height={HIGH - 8}
        />
      )}
    </svg>
  );
};
