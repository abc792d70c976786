import { signal } from '@preact/signals';
import { drawerOpen } from './stage.ts';

/** A line at the head of the job card: something the page has to say that nobody asked for. */
export interface Notice {
  /** One line of a kind; a newer one takes its place. */
  readonly about: string;
  readonly words: string;
  /** Whether work is in danger. A quiet line waits to be read. */
  readonly grave: boolean;
  readonly actions?: readonly NoticeAction[];
}

export interface NoticeAction {
  readonly words: string;
  readonly act: () => void;
}

export const notices = signal<readonly Notice[]>([]);

/** Puts a line up, in place of an older one about the same thing. */
export const tell = (notice: Notice): void => {
  const others = notices.peek().filter((n) => n.about !== notice.about);
  notices.value = [...others, notice];
  // On a phone the card is a drawer: what endangers work must not wait in it.
  if (notice.grave) drawerOpen.value = true;
};

export const takeDown = (about: string): void => {
  const left = notices.peek().filter((n) => n.about !== about);
  if (left.length < notices.peek().length) notices.value = left;
};
