/**
 * Text that people wrote into checked values, or into a list of faults with file, line and column.
 *
 * YAML 1.2.2, core schema, strictly; CSV after RFC 4180; times after RFC 3339. Levels and limits as
 * 29 CFR 1910.272(q)(5) words them. Proved by tests/rooms/config and the files under tests/rulebooks.
 */
export {
  ADDRESS_FORMS,
  type AddressForms,
  addressForms,
  addressName,
  modbusAddress,
  opcUaAddress,
  TABLE_WORDS,
  tableNamed,
} from './address.ts';
export type { Fault, Place } from './fault.ts';
export { faultSentence, faultText } from './fault-text.ts';
export { type MarksRead, readMarks, type TraceMark } from './marks.ts';
export { MARK_ATTESTATIONS, MARK_METHODS } from './marks-schema.ts';
export { overrideSource, type Whereabouts } from './override.ts';
export { readScenario, type ScenarioRead, scenarioFilesWanted } from './scenario.ts';
export { packSchemaText, siteSchemaText } from './schemas.ts';
export { filesWanted, readSite, type SiteRead } from './site.ts';
export { readTrace, type TraceOptions, type TraceRead } from './trace.ts';
export { type SiteTables, type TableNames, writeTables } from './write-tables.ts';
export { writeTrace } from './write-trace.ts';
