import type { ComponentChildren } from 'preact';
import type { Resource } from '../state/resource.ts';
import { say } from '../text/say.ts';

interface ReadingProps<T> {
  readonly of: Resource<T>;
  readonly children: (value: T) => ComponentChildren;
}

/** It is being read. */
export const Loading = () => <p class="soft">{say('shell', 'loading')}</p>;

/** What is read from the daemon, or that it is being read, or why it could not be, with a way to try again. */
export const Reading = <T,>({ of, children }: ReadingProps<T>) => {
  if (of.value !== undefined) return <>{children(of.value)}</>;
  if (of.trouble === undefined) return <Loading />;
  return (
    <div class="told bad row" role="alert">
      <p class="grow">{say('shell', 'failed', { why: of.trouble })}</p>
      <button type="button" class="button" onClick={of.again}>
        {say('shell', 'again')}
      </button>
    </div>
  );
};
