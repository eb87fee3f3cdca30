/** Readers that share nothing with what wrote the text: Python's csv and xml.etree. */
import { spawnSync } from 'node:child_process';

export const python = spawnSync('/usr/bin/python3', ['-V']).status === 0;

/** Appended to the title of a suite that is skipped. */
export const withoutPython = python ? '' : ' (skipped: /usr/bin/python3 is missing)';

const told = (script: string, input: string): unknown => {
  const done = spawnSync('/usr/bin/python3', ['-c', script], { input, encoding: 'utf8' });
  if (done.status !== 0) throw new Error(done.stderr);
  return JSON.parse(done.stdout);
};

const CSV = `
import csv, io, json, sys
text = sys.stdin.buffer.read().decode('utf-8')
print(json.dumps(list(csv.reader(io.StringIO(text, newline=''), strict=True))))
`;

/** The records of a CSV text, read strictly. */
export const csvOf = (text: string): string[][] => told(CSV, text) as string[][];

const XML = `
import json, sys
import xml.etree.ElementTree as tree
def told(one):
    return {'name': one.tag, 'attributes': one.attrib, 'text': one.text or '', 'inner': [told(x) for x in one]}
print(json.dumps(told(tree.fromstring(sys.stdin.buffer.read()))))
`;

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly text: string;
  readonly inner: readonly Element[];
}

/** The root of an XML document; throws where it is not well-formed. */
export const xmlOf = (text: string): Element => told(XML, text) as Element;

/** Every element of that name, in order. */
export const elements = (root: Element, name: string): readonly Element[] => [
  ...(root.name === name ? [root] : []),
  ...root.inner.flatMap((one) => elements(one, name)),
];
