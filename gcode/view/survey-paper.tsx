import { useState } from 'preact/hooks';
import { saveText } from '../../sketch/view/files.ts';
import { slug } from '../program/name.ts';
import type { ShownAdvice } from '../sheet/advice-pages.ts';
import { surveyHtml } from '../sheet/survey-pages.ts';
import { surveyReport } from '../survival/survey-report.ts';
import { paperPictures } from './movements.ts';
import { printHtml } from './print-sheet.ts';
import type { SurveyAsk, SurveyState } from './survey.ts';

/** The estimates on paper or in a file, with the worst pass of each setup as a picture: once nothing is under way. */
export const SurveyPaper = ({
  ask,
  state,
  better,
}: {
  readonly ask: SurveyAsk;
  readonly state: SurveyState;
  /** What would be better, once that is found. */
  readonly better: ShownAdvice | null;
}) => {
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState<string | null>(null);
  const { part } = ask.planned;
  const name = `${slug(part.name)}-estimates.html`;
  const make = (use: (html: string) => void): void => {
    setBusy(true);
    setTrouble(null);
    const report = surveyReport(ask.planned, state.passes, state.squeezes);
    paperPictures(ask, state.passes)
      .then((pictures) => use(surveyHtml(part, report, pictures, better)))
      .catch((error: unknown) => setTrouble(error instanceof Error ? error.message : String(error)))
      .finally(() => setBusy(false));
  };
  const waits = busy || state.share !== null;
  return (
    <>
      <div class="save-row">
        <button type="button" disabled={waits} onClick={() => make(printHtml)}>
          Print the estimates
        </button>
        <button
          type="button"
          disabled={waits}
          onClick={() => make((html) => saveText(name, html, 'text/html'))}
        >
          Save {name}
        </button>
      </div>
      {busy && (
        <p class="aside" role="status">
          Drawing the worst pass of each setup …
        </p>
      )}
      {trouble && (
        <p class="wrong" role="alert">
          The estimates could not be put on paper: {trouble}
        </p>
      )}
    </>
  );
};
