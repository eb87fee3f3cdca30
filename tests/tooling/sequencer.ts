import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Begun first, the slowest first, so that none of them is left alone at the end. */
const SLOW = [
  /tests\/console\/walk/,
  /tests\/journey\/(access|demand|people)\./,
  /tests\/(journey|console)\//,
  /tests\/rooms\/field\/contract\./,
  /tests\/campaigns\//,
  /tests\/rooms\/rulebook\/plan-truth/,
  /tests\/rooms\/(field|rehearse|plant|store|print|cli)\//,
  /tests\/rooms\/judge\//,
];

const rankOf = (specification: TestSpecification): number => {
  const found = SLOW.findIndex((pattern) => pattern.test(specification.moduleId));
  return found < 0 ? SLOW.length : found;
};

/** Slow suites first; the library's own order among them. */
export class SlowFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return sorted.toSorted((a, b) => rankOf(a) - rankOf(b));
  }
}
