/** Characters that no XML or HTML text may hold; they are shown as a mark instead. */
const FORBIDDEN =
  /[^\t\n\r\u0020-\u007e\u00a0-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]|[\u202a-\u202e\u2066-\u2069]/gu;

const NAMES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in an element or in a quoted attribute. */
export const escaped = (value: string): string =>
  value.replace(FORBIDDEN, '\ufffd').replace(/[&<>"']/g, (one) => NAMES[one] ?? one);

/** A number for an SVG attribute: two decimals, no exponent. */
export const figure = (value: number): string => {
  const text = (Math.round(value * 100) / 100).toFixed(2);
  return text.replace(/\.?0+$/, '').replace(/^-0$/, '0');
};

type Attributes = Readonly<Record<string, string | number>>;

const attributesText = (attributes: Attributes): string =>
  Object.entries(attributes)
    .map(([name, value]) => ` ${name}="${typeof value === 'number' ? figure(value) : escaped(value)}"`)
    .join('');

/** An SVG element; numbers are rounded, texts escaped, `inner` is markup already. */
export const shape = (name: string, attributes: Attributes, inner?: string): string =>
  inner === undefined
    ? `<${name}${attributesText(attributes)}/>`
    : `<${name}${attributesText(attributes)}>${inner}</${name}>`;

/** An SVG text. */
export const label = (x: number, y: number, value: string, attributes: Attributes = {}): string =>
  shape('text', { x, y, ...attributes }, escaped(value));
