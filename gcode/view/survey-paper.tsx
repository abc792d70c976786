import { useState } from 'preact/hooks';
import { saveText } from '../../sketch/view/files.ts';
import { assumptionsFor } from '../../toolpath/survival/machine-terms.ts';
import { survivalRows } from '../../toolpath/survival/survival-rows.ts';
import { slug } from '../program/name.ts';
import { surveyHtml } from '../sheet/survey-pages.ts';
import type { Survival } from '../survival/report.ts';
import { paperPictures } from './movements.ts';
import { printHtml } from './print-sheet.ts';
import type { SurveyAsk, SurveyState } from './survey.ts';

/** A survey as it is written to a file: what the page shows, rounded to what it is worth. */
export const survivalOf = ({ planned }: SurveyAsk, { passes, findings, squeeze }: SurveyState): Survival => ({
  assumptions: assumptionsFor(
    planned.profile,
    planned.part.bar.material,
    planned.route.setups.map((setup) => setup.hold),
  ),
  findings,
  passes: survivalRows(passes),
  squeeze,
});

/** The estimates on paper or in a file, with the worst pass of each setup as a picture: once nothing is under way. */
export const SurveyPaper = ({ ask, state }: { readonly ask: SurveyAsk; readonly state: SurveyState }) => {
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState<string | null>(null);
  const { part } = ask.planned;
  const name = `${slug(part.name)}-estimates.html`;
  const make = (use: (html: string) => void): void => {
    setBusy(true);
    setTrouble(null);
    paperPictures(ask, state.passes)
      .then((pictures) => use(surveyHtml(part, survivalOf(ask, state), pictures)))
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
