import { machineTerms } from '../../toolpath/survival/machine-terms.ts';
import { movementFields } from '../../toolpath/survival/movement-field.ts';
import { survivalQuestion } from '../chain.ts';
import { movementPicture } from '../survival/movement-picture.ts';
import { movementWords } from '../survival/movement-words.ts';
import { ON_PAPER, worstPictures } from '../survival/worst-pictures.ts';
import type { MovementAsk, MovementNews, MovementWish, ShownMovement } from './movements.ts';
import type { SurveyAsk } from './survey.ts';

type Fields = ReturnType<typeof movementFields>;

let work: SurveyAsk | null = null;
let fields: Fields | null = null;
let newest: Extract<MovementAsk, { kind: 'wish' }> | null = null;
let running = false;

const tell = (news: MovementNews): void => self.postMessage(news);

/** Lets messages in that came meanwhile. */
const pause = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

const questionOf = ({ planned, programs }: SurveyAsk) =>
  [survivalQuestion(planned, programs), machineTerms(planned.profile, planned.part.bar.material)] as const;

const show = (
  known: Fields,
  { planned }: SurveyAsk,
  { pass, force, place, name, across }: MovementWish,
): ShownMovement => {
  const field = known(pass, force, place);
  if (field === null || field.kind === 'none') return field ?? { kind: 'none', why: 'Stopped.' };
  return {
    kind: 'picture',
    picture: movementPicture(field, across, planned.part.unit),
    words: movementWords(field, name, planned.part.unit),
    under: field.under,
    most: field.most,
  };
};

/** Answers the newest wish; one that a newer has overtaken is passed over, or its answer dropped. */
const run = async (): Promise<void> => {
  running = true;
  for (;;) {
    await pause();
    const wish = newest;
    if (wish === null || work === null) break;
    try {
      fields ??= movementFields(...questionOf(work));
      await pause();
      if (newest !== wish) continue;
      const shown = show(fields, work, wish.wish);
      await pause();
      if (newest !== wish) continue;
      tell({ kind: 'shown', ticket: wish.ticket, shown });
    } catch (error) {
      tell({ kind: 'failed', ticket: wish.ticket, message: messageOf(error) });
    }
    if (newest === wish) newest = null;
  }
  running = false;
};

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const paper = ({ work, passes }: Extract<MovementAsk, { kind: 'paper' }>): void => {
  try {
    const { unit } = work.planned.part;
    tell({ kind: 'paper', pictures: worstPictures(...questionOf(work), passes, ON_PAPER, unit) });
  } catch (error) {
    tell({ kind: 'failed', ticket: 0, message: messageOf(error) });
  }
};

self.onmessage = ({ data }: MessageEvent<MovementAsk>): void => {
  if (data.kind === 'work') {
    work = data.work;
    fields = null;
    return;
  }
  if (data.kind === 'paper') {
    paper(data);
    return;
  }
  newest = data;
  if (!running) void run();
};
