import { useEffect, useState } from 'preact/hooks';
import { whyText } from '../text/why.ts';
import { ask } from './api.ts';

export interface Resource<T> {
  readonly value?: T;
  /** Why there is none. */
  readonly trouble?: string;
  again(): void;
}

/** Reads `path` when it is shown, and whenever it or `version` changes; '' reads nothing. */
export const useResource = <T>(path: string, version = 0): Resource<T> => {
  const [state, setState] = useState<{ path: string; value?: T; trouble?: unknown }>({ path });
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    if (path === '') return;
    let there = true;
    ask<T>(path).then(
      (value) => there && setState({ path, value }),
      (error: unknown) => there && setState({ path, trouble: error }),
    );
    return () => {
      there = false;
    };
  }, [path, turn, version]);
  const own = state.path === path ? state : { path };
  return {
    ...(own.value !== undefined && { value: own.value }),
    ...(own.trouble !== undefined && { trouble: whyText(own.trouble) }),
    again: () => setTurn(turn + 1),
  };
};
