/** What stands on the record of a demand. */
export const DEMAND =
  'A real trip outside any test; partial evidence. Nobody chose what moved, how far or how fast, and nobody was asked to watch.';
