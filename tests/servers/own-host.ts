let taken = 0;

/**
 * On Linux every 127.x.y.z is this machine: an address that nobody else uses keeps its port free while whoever listened
 * there is gone for a while.
 */
export const ownHost = (): string => {
  if (process.platform !== 'linux') return '127.0.0.1';
  taken += 1;
  const { pid } = process;
  return `127.${100 + (pid % 100)}.${(pid >> 7) & 0xff}.${1 + (taken % 250)}`;
};
