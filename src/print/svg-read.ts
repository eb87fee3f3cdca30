/** An element of a drawing, with what stands in it. */
export interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly text: string;
  readonly inner: readonly Node[];
}

interface Open {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  text: string;
  readonly inner: Node[];
}

const NAMES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

const plain = (value: string): string =>
  value.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => NAMES[name] ?? '');

const TOKEN = /<(\/?)([a-zA-Z]+)((?:\s+[a-zA-Z][a-zA-Z0-9:-]*="[^"]*")*)\s*(\/?)>|([^<]+)/y;

const attributesOf = (text: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    [...text.matchAll(/([a-zA-Z][a-zA-Z0-9:-]*)="([^"]*)"/g)].map(([, name = '', value = '']) => [
      name,
      plain(value),
    ]),
  );

/** Reads a drawing as `report` writes it (a small, strict part of SVG 1.1). Throws on anything else. */
export const readSvg = (svg: string): Node => {
  const top: Open = { name: '', attributes: {}, text: '', inner: [] };
  const open: Open[] = [top];
  TOKEN.lastIndex = 0;
  for (let at = 0; at < svg.length; at = TOKEN.lastIndex) {
    TOKEN.lastIndex = at;
    const found = TOKEN.exec(svg);
    const parent = open.at(-1);
    if (found === null || parent === undefined)
      throw new RangeError(`A drawing cannot be read at: ${svg.slice(at, at + 40)}`);
    const [, close, name = '', rest = '', self, text] = found;
    if (text !== undefined) parent.text += plain(text);
    else if (close === '/') {
      open.pop();
      if (parent.name !== name) throw new RangeError(`</${name}> closes <${parent.name}> in a drawing`);
      open.at(-1)?.inner.push(parent);
    } else {
      const node: Open = { name, attributes: attributesOf(rest), text: '', inner: [] };
      if (self === '/') parent.inner.push(node);
      else open.push(node);
    }
  }
  const [svgNode] = top.inner;
  if (svgNode?.name !== 'svg' || open.length !== 1) throw new RangeError('This is no whole drawing.');
  return svgNode;
};
