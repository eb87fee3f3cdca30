import { route } from '../../state/route.ts';
import { RecordList } from './list.tsx';
import { RecordPage } from './record.tsx';
import { TrialPage } from './trial.tsx';

/** What was recorded: the list, one record, or one trial of it. */
export const RecordsPage = () => {
  const [, window, interlock, trial] = route.value.parts;
  if (window === undefined) return <RecordList />;
  if (interlock === undefined || trial === undefined) return <RecordPage window={window} />;
  return (
    <TrialPage
      key={`${window} ${interlock} ${trial}`}
      window={window}
      interlock={interlock}
      trial={Number(trial)}
    />
  );
};
