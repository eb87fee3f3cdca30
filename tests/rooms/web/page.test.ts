/** The page's script on a document that only remembers what was put into it: dangers stay until seen, advice stands where it belongs. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';

class Element {
  textContent = '';
  className = '';
  readonly dataset: Record<string, string> = {};
  readonly listeners: Record<string, () => void> = {};
  children: (Element | string)[] = [];
  append(...more: (Element | string)[]): void {
    this.children.push(...more);
  }
  replaceChildren(...all: (Element | string)[]): void {
    this.children = all;
  }
  addEventListener(name: string, listener: () => void): void {
    this.listeners[name] = listener;
  }
  get childElementCount(): number {
    return this.children.length;
  }
  get text(): string {
    return (
      this.textContent + this.children.map((one) => (typeof one === 'string' ? one : one.text)).join(' ')
    );
  }
  all(kind: string): Element[] {
    const below = this.children.flatMap((one) => (typeof one === 'string' ? [] : one.all(kind)));
    return this.className.split(' ').includes(kind) ? [this, ...below] : below;
  }
}

const SCRIPT = readFileSync(
  fileURLToPath(new URL('../../../src/web/page.client.js', import.meta.url)),
  'utf8',
);

const open = () => {
  const places = new Map<string, Element>();
  const heard = new Map<string, (event: { data: string }) => void>();
  const place = (id: string): Element => {
    const found = places.get(id) ?? new Element();
    places.set(id, found);
    return found;
  };
  class EventSource {
    addEventListener(name: string, listener: (event: { data: string }) => void): void {
      heard.set(name, listener);
    }
  }
  const document = { title: '', getElementById: place, createElement: () => new Element() };
  runInNewContext(SCRIPT, { document, EventSource, encodeURIComponent });
  return {
    place,
    document,
    tell: (name: string, value: object) => heard.get(name)?.({ data: JSON.stringify(value) }),
  };
};

const danger = (number: number) => ({
  number,
  utc: '2026-11-25T10:00:00Z',
  dangerous: true,
  text: 'DANGEROUS: stop it',
});
const NOW = {
  site: 's',
  title: 'Mill',
  utc: '2026-11-25T10:00:00Z',
  sources: [],
  signals: [],
  interlocks: [
    { name: 'E1.other', title: '', testing: false, trial: 0, waits: [] },
    {
      name: 'E1.stop',
      title: '',
      testing: true,
      trial: 1,
      waits: [],
      advice: { code: 'coach-slow-down', text: 'Slow down' },
    },
  ],
  contradictions: [danger(1)],
  demands: [{ id: 'd1', standing: 'closed', interlocks: [{ name: 'E1.stop', outcome: 'pass' }] }],
};

test('a danger stays until somebody says that it was seen; a new one shows again', () => {
  const { place, document, tell } = open();
  const dangers = place('dangers');
  tell('now', NOW);
  expect(dangers.all('danger').map(({ text }) => text)).toEqual([
    expect.stringContaining('DANGEROUS: stop it'),
  ]);
  expect(document.title).toContain('DANGER');
  const [first] = dangers.all('danger');
  tell('now', NOW);
  expect(dangers.all('danger')[0]).toBe(first);
  const button = first?.children.at(-1) as Element;
  button.listeners['click']?.();
  tell('now', NOW);
  expect(dangers.all('danger')).toEqual([]);
  tell('now', { ...NOW, contradictions: [danger(2), danger(1)] });
  expect(dangers.all('danger')).toHaveLength(1);
});

test('advice stands beneath its interlock, what is under test first; demands are named; asides are left out', () => {
  const { place, tell } = open();
  tell('finding', { window: 'w1', interlock: 'E1.stop', text: 'ready', aside: false });
  tell('finding', { window: 'w1', interlock: 'E1.other', text: 'of no concern', aside: true });
  tell('now', { ...NOW, window: { id: 'w1', opened: '2026-11-25T10:00:00Z', demand: false } });
  expect(place('interlocks').text).toMatch(/E1\.stop.*Slow down.*E1\.other/);
  expect(
    place('interlocks')
      .all('stop')
      .map(({ text }) => text),
  ).toEqual(['Slow down']);
  expect(place('events').text).toMatch(/d1.*E1\.stop: pass/);
  expect(place('window').text).toContain('ready');
  expect(place('window').text).not.toContain('of no concern');
  tell('now', { ...NOW, window: { id: 'd2', opened: '', demand: true } });
  expect(place('window').text).toContain('A real trip is being recorded: d2');
});
