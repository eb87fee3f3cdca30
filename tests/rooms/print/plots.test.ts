/** Plots on paper: everything that `report` draws has a way to be drawn, and stands where it stood. */
import { describe, expect, test } from 'vitest';
import { runsOf } from '../../../src/print/svg-path.ts';
import { type Node, readSvg } from '../../../src/print/svg-read.ts';
import { HATCHES, PAINTS } from '../../../src/print/svg-style.ts';
import {
  numberLine,
  plotTrial,
  regionPlot,
  subjectsOf,
  type WindowReport,
} from '../../../src/report/index.ts';
import { KINDS } from '../report/kinds.ts';
import { SAMPLE } from '../report/sample.ts';

const plotsOf = (report: WindowReport): readonly string[] =>
  subjectsOf(report).flatMap((subject) => [
    numberLine(subject, 'n'),
    regionPlot(subject, 'r')?.svg ?? '',
    ...subject.report.traces.map((trace) => plotTrial(report, subject, trace, 't')),
  ]);

const PLOTS = [...plotsOf(SAMPLE), ...plotsOf(KINDS)].filter((svg) => svg !== '');

const all = (node: Node): readonly Node[] => [node, ...node.inner.flatMap(all)];

const drawn = PLOTS.flatMap((svg) =>
  readSvg(svg)
    .inner.filter(({ name }) => name !== 'defs')
    .flatMap(all),
);

describe('what the plots of every kind of cause are made of', () => {
  test('every class has its own way to be drawn; groups have none', () => {
    const shapes = drawn.filter(({ name }) => name !== 'g');
    const classes = new Set(shapes.flatMap(({ attributes }) => (attributes['class'] ?? '').split(' ')));
    classes.delete('');
    expect(classes.size).toBeGreaterThan(20);
    expect([...classes].filter((name) => PAINTS[name] === undefined)).toEqual([]);
  });

  test('every hatch that is asked for is known', () => {
    const asked = new Set(
      drawn.flatMap(({ attributes }) => /^url\(#.*-([a-z]+)\)$/.exec(attributes['fill'] ?? '')?.[1] ?? []),
    );
    expect([...asked].sort()).toEqual(['band', 'doubt', 'gap']);
    for (const name of asked) expect(HATCHES[name]).toBeDefined();
  });

  test('every path is made of straight lines that can be read', () => {
    const paths = drawn.filter(({ name }) => name === 'path');
    expect(paths.length).toBeGreaterThan(20);
    for (const { attributes } of paths) expect(runsOf(attributes['d'] ?? '').length).toBeGreaterThan(0);
  });
});

describe('paths after SVG 1.1, 8.3', () => {
  test.each([
    [
      'M10 20h5v-3h-5',
      [
        [10, 20],
        [15, 20],
        [15, 17],
        [10, 17],
      ],
    ],
    [
      'M1 2L3 4l-1 -1',
      [
        [1, 2],
        [3, 4],
        [2, 3],
      ],
    ],
    // Further pairs after a move are lines (8.3.2); relative ones after m.
    [
      'm1 1 2 2 2 2',
      [
        [1, 1],
        [3, 3],
        [5, 5],
      ],
    ],
    [
      'M0.5 1.25H3V4',
      [
        [0.5, 1.25],
        [3, 1.25],
        [3, 4],
      ],
    ],
  ])('%s', (d, points) => {
    expect(runsOf(d).flatMap((run) => run.points.map(({ x, y }) => [x, y]))).toEqual(points);
  });

  test('two moves are two runs', () => {
    expect(runsOf('M0 0v5M3 0v5').map(({ points }) => points.length)).toEqual([2, 2]);
    expect(runsOf('M0 0h5v5z').map(({ closed }) => closed)).toEqual([true]);
  });

  test('a curve is refused, not left out', () => {
    expect(() => runsOf('M0 0C1 1 2 2 3 3')).toThrow('command C');
  });
});

describe('a drawing that is none', () => {
  test.each(['<svg><line></svg>', '<svg><rect x=1/></svg>', 'text', '<svg><text>a</text>'])('%s', (svg) => {
    expect(() => readSvg(svg)).toThrow(RangeError);
  });
});
