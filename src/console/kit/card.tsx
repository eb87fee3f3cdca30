import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface CardProps {
  readonly title: string;
  /** At the end of the heading. */
  readonly aside?: ComponentChildren;
  /** Not on paper. */
  readonly unprinted?: boolean;
  readonly children: ComponentChildren;
}

/** A part of a page under a heading of its own. */
export const Card = ({ title, aside, unprinted = false, children }: CardProps) => {
  const id = useId();
  return (
    <section class={unprinted ? 'card unprinted' : 'card'} aria-labelledby={id}>
      <header>
        <h2 id={id}>{title}</h2>
        {aside !== undefined && <span>{aside}</span>}
      </header>
      {children}
    </section>
  );
};
