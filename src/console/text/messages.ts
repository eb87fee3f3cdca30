import type { MESSAGES as EN } from '../messages/en/index.ts';

/** Every text of the page, by topic and key. A language that lacks one does not compile. */
export type Messages = {
  readonly [Name in keyof typeof EN]: { readonly [Key in keyof (typeof EN)[Name]]: string };
};
export type Topic = keyof Messages;
