/**
 * Rehearsals: made-up signals over time and what people do, played through the very judge that judges a plant.
 *
 * Scenarios say what must come out; the self-test plays every interlock as it should act and then as it should not,
 * so that a rule which can never fail is found before anybody trusts it. Proved by tests/rooms/rehearse and the files
 * under tests/scenarios.
 */
export { type Difference, differences } from './compare.ts';
export { healthyLine } from './healthy.ts';
export { perform } from './perform.ts';
export { type Proof, selfTest, type Tried } from './self-test.ts';
export type { Acting, Cover, Expectation, Line, Move, Play, Polling, Scenario } from './types.ts';
