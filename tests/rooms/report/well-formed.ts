/** A strict reader of the HTML that the report writes: every element is closed, in order; returns what it saw. */
const VOID = new Set(['meta', 'br', 'hr', 'img', 'link', 'input']);

export interface Seen {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
}

const TAG = /<(\/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z][a-zA-Z0-9-]*(?:="[^"<]*")?)*)\s*(\/?)>/y;

export const readMarkup = (html: string): readonly Seen[] => {
  const body = html.replace(/^<!DOCTYPE html>\n/, '').replace(/<style>[^<]*<\/style>/g, '');
  const open: string[] = [];
  const seen: Seen[] = [];
  for (let at = body.indexOf('<'); at >= 0; at = body.indexOf('<', at)) {
    TAG.lastIndex = at;
    const found = TAG.exec(body);
    if (found === null) throw new Error(`no tag at: ${body.slice(at, at + 60)}`);
    const [all, close, name = '', rest = '', self] = found;
    at += all.length;
    if (close === '/') {
      const last = open.pop();
      if (last !== name) throw new Error(`</${name}> closes <${last}>`);
      continue;
    }
    const pairs = [...rest.matchAll(/([a-zA-Z][a-zA-Z0-9-]*)="([^"]*)"/g)].map((one) => [
      one[1] ?? '',
      one[2] ?? '',
    ]);
    seen.push({ name, attributes: Object.fromEntries(pairs) as Record<string, string> });
    if (self !== '/' && !VOID.has(name)) open.push(name);
  }
  if (open.length > 0) throw new Error(`never closed: ${open.join(', ')}`);
  return seen;
};
