/** `../rules/leg.yaml` as seen from the folder of `from`; separators are `/`. */
export const resolvePath = (from: string, path: string): string => {
  if (path.startsWith('/')) return path;
  const folder = from.slice(0, from.lastIndexOf('/') + 1);
  const absolute = folder.startsWith('/');
  const parts: string[] = [];
  for (const part of `${folder}${path}`.split('/')) {
    if (part === '' || part === '.') continue;
    if (part === '..' && parts.length > 0 && parts.at(-1) !== '..') parts.pop();
    else if (part !== '..' || !absolute) parts.push(part);
  }
  return `${absolute ? '/' : ''}${parts.join('/')}`;
};
