import { type Levels, newLevels } from './levels.ts';
import { newWays, type Ways } from './ways.ts';

/** What the program of one machine is set to. */
export type Settings = Levels & Ways;

export const newSettings = (targets: number, normal: number): Settings => ({
  ...newLevels(targets, normal),
  ...newWays(),
});
