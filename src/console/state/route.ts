import { signal } from '@preact/signals';

/** The place after `#/`, in parts, and what stands behind `?`. */
export interface Route {
  readonly parts: readonly string[];
  readonly query: URLSearchParams;
}

const read = (): Route => {
  const [path = '', query = ''] = location.hash.replace(/^#\/?/, '').split('?');
  return {
    parts: path
      .split('/')
      .filter((part) => part !== '')
      .map(decodeURIComponent),
    query: new URLSearchParams(query),
  };
};

export const route = signal<Route>(read());

addEventListener('hashchange', () => {
  route.value = read();
});

/** Address of a page of ours, for a link. */
export const hrefOf = (parts: readonly string[], query: Readonly<Record<string, string>> = {}): string => {
  const behind = new URLSearchParams(query).toString();
  return `#/${parts.map(encodeURIComponent).join('/')}${behind === '' ? '' : `?${behind}`}`;
};

export const goTo = (parts: readonly string[], query: Readonly<Record<string, string>> = {}): void => {
  location.hash = hrefOf(parts, query);
};
