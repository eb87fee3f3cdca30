import { SEGMENTS, type Segment } from '../../measure/index.ts';
import { say, segmentText } from '../text/say.ts';

interface ReachProps {
  readonly proves: readonly Segment[];
  readonly cannot: readonly Segment[];
}

/** What a test reaches of the way from the sensor to the people, part by part. */
export const Reach = ({ proves, cannot }: ReachProps) => (
  <ol class="chain reach">
    {SEGMENTS.filter((one) => proves.includes(one) || cannot.includes(one)).map((one) => {
      const proved = proves.includes(one);
      return (
        <li key={one} class={proved ? 'proved' : ''}>
          <i aria-hidden="true">{proved ? '✔' : '–'}</i>
          <span>{segmentText(one)}</span>
          <span class="unseen">: {say('begin', proved ? 'proved' : 'not-proved')}</span>
        </li>
      );
    })}
  </ol>
);
