/** What is asked of the log beside the thread that polls. `from`, `to`: µs after the opening. */
export type ReviewQuestion =
  | { readonly ask: 'windows' | 'matrix' | 'due' }
  | { readonly ask: 'record' | 'page' | 'pdf'; readonly window: string }
  | {
      readonly ask: 'trace';
      readonly window: string;
      /** Names; one that its book does not have has no rows. */
      readonly signals: readonly string[];
      readonly from?: number;
      readonly to?: number;
      /** Columns. */
      readonly width: number;
    };

/** The answer as it goes out; `tag` changes when it does. */
export interface Reviewed {
  readonly tag: string;
  readonly body: Uint8Array<ArrayBuffer>;
}
