import { say } from '../text/say.ts';

/** What was asked for could not be done, and why; nothing while there is no reason. */
export const Failed = ({ why }: { readonly why: string }) =>
  why === '' ? null : (
    <p class="told bad" role="alert">
      {say('shell', 'failed', { why })}
    </p>
  );
