import { hasErrors } from '../../sketch/part/severity.ts';
import { saveText } from '../../sketch/view/files.ts';
import type { Still } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import { CAUTIONS } from '../program/header.ts';
import { slug } from '../program/name.ts';
import { proofJson } from '../proof/json.ts';
import { partSvg } from '../sheet/part-svg.ts';
import { sheetHtml } from '../sheet/sheet.ts';
import { surveyReport } from '../survival/survey-report.ts';
import { tableCsv } from '../table/csv.ts';
import type { Adviser } from './advice.ts';
import { machineSetup } from './at-machine.tsx';
import type { Bench } from './bench.ts';
import { pickedLine } from './picking.ts';
import { printHtml } from './print-sheet.ts';
import { ProgramText } from './program-text.tsx';
import type { Survey } from './survey.ts';
import { SurveyPaper } from './survey-paper.tsx';
import { TablePreview } from './table-preview.tsx';

interface TakeAwayProps {
  readonly bench: Bench;
  readonly survey: Survey;
  readonly adviser: Adviser;
  readonly work: PlannedPart;
  readonly still: Still | null;
  readonly stills: readonly Still[];
  readonly onShow: (still: number) => void;
}

/** The Take away stage: what goes to the machine, with the cautions beside it. */
export const TakeAwayPanel = (p: TakeAwayProps) => {
  const { bench, work } = p;
  const proof = bench.proof.value;
  if (hasErrors(work.findings)) {
    return (
      <p class="wrong">Nothing leaves from here yet: Hold or Cut has findings that must be mended first.</p>
    );
  }
  const stem = slug(work.part.name);
  const handwork = bench.handwork.value;
  const page = (): string => sheetHtml(work, proof, handwork?.proof ?? null);
  return (
    <div class="take-away">
      <Verdict bench={bench} />
      <Programs {...p} />
      <div class="caution">
        Before the spindle turns
        <ul>
          {CAUTIONS.map((c) => (
            <li key={c}>{c}</li>
          ))}
        </ul>
      </div>
      <h3>Coordinate table</h3>
      <TableVerdict bench={bench} />
      {p.still && <TablePreview work={work} still={p.still} />}
      <div class="save-row">
        {work.plan.setups.map(({ setup }) => (
          <button
            key={setup.number}
            type="button"
            onClick={() => {
              machineSetup.value = setup.number;
            }}
          >
            Go to the machine, setup {setup.number}
          </button>
        ))}
        <button
          type="button"
          disabled={handwork?.sound !== true}
          onClick={() =>
            saveText(`${stem}-table.csv`, tableCsv(work.plan, work.part, work.profile), 'text/csv')
          }
        >
          Save {stem}-table.csv
        </button>
      </div>
      <h3>Sheets and drawing</h3>
      <div class="save-row">
        <button type="button" onClick={() => printHtml(page())}>
          Print the sheets
        </button>
        <button type="button" onClick={() => saveText(`${stem}-sheet.html`, page(), 'text/html')}>
          Save {stem}-sheet.html
        </button>
        <button type="button" onClick={() => saveText(`${stem}.svg`, partSvg(work.part), 'image/svg+xml')}>
          Save {stem}.svg
        </button>
        <button
          type="button"
          disabled={proof === null}
          onClick={() =>
            proof &&
            saveText(
              `${stem}-proof.json`,
              `${JSON.stringify({ ...proofJson(proof), ...estimatesOf(p) }, null, 2)}\n`,
              'application/json',
            )
          }
        >
          Save {stem}-proof.json
        </button>
      </div>
      <Estimates {...p} />
    </div>
  );
};

/** What a finished or stopped survey adds to the proof's file, as the command line writes it; nothing where none was made. */
const estimatesOf = ({ bench, survey, adviser }: TakeAwayProps): object => {
  const state = survey.state.value;
  const planned = bench.work.value;
  if (!state || !planned || state.share !== null || state.passes.length === 0) return {};
  const advice = adviser.state.value?.kind === 'found' ? adviser.state.value.advice : null;
  return { survival: { ...surveyReport(planned, state.passes, state.squeezes), advice } };
};

/** The estimates for paper, where they were worked out. */
const Estimates = ({ bench, survey, adviser }: TakeAwayProps) => {
  const better = adviser.state.value;
  const state = survey.state.value;
  const planned = bench.work.value;
  return (
    <>
      <h3>Will it survive?</h3>
      {state && planned && state.passes.length > 0 ? (
        <SurveyPaper
          ask={{ planned, programs: bench.programs.value }}
          state={state}
          better={better?.kind === 'found' ? better : null}
        />
      ) : (
        <p class="remark">
          Force, bending and hold of every pass are estimated under Prove, and can then be printed here.
        </p>
      )}
    </>
  );
};

const Verdict = ({ bench }: { readonly bench: Bench }) => {
  const proof = bench.proof.value;
  if (!proof) return <p class="remark">Not proven yet. {bench.progress.value ?? ''}</p>;
  return proof.verdict === 'fits' ? (
    <p class="remark">
      Proven: what these programs cut fits the part, on paper. The findings and numbers stand under Prove.
    </p>
  ) : (
    <p class="wrong" role="alert">
      The proof says this does not fit. See Prove before any of it goes to a machine.
    </p>
  );
};

/** A table with a doubtful figure is not handed on as if it were good. */
const TableVerdict = ({ bench }: { readonly bench: Bench }) => {
  const handwork = bench.handwork.value;
  if (!handwork) return <p class="remark">Not proven yet.</p>;
  return handwork.sound ? (
    <p class="remark" data-table-verdict="fits">
      Proven: {handwork.proof.rows} stops, done by hand as they are written, leave the part you drew.
    </p>
  ) : (
    <div class="wrong" role="alert" data-table-verdict="does not fit">
      By hand, as it is written, this does not fit.
      <ul>
        {handwork.proof.findings.slice(0, 5).map((f) => (
          <li key={f.message}>{f.message}</li>
        ))}
      </ul>
    </div>
  );
};

const Programs = ({ bench, still, stills, onShow }: TakeAwayProps) => {
  const programs = bench.programs.value;
  const setup = still?.setup.setup.number ?? programs[0]?.setup ?? 1;
  const program = programs.find((p) => p.setup === setup);
  if (!program) return <p class="aside">{bench.progress.value ?? 'No program yet.'}</p>;
  const ofSetup = stills.filter((s) => s.setup.setup.number === setup);
  const here = still ? ofSetup.indexOf(still) : -1;
  const pick = (line: number): void => {
    pickedLine.value = { setup, line };
    const at = program.lines.findLastIndex((l) => l.first <= line);
    const target = ofSetup[Math.max(0, at)];
    if (target) onShow(target.index);
  };
  return (
    <>
      <fieldset class="program-tabs">
        <legend class="hidden-words">Program of setup</legend>
        {programs.map((p) => (
          <button
            key={p.setup}
            type="button"
            aria-pressed={p.setup === setup}
            onClick={() => {
              const first = stills.find((s) => s.setup.setup.number === p.setup);
              if (first) onShow(first.index);
            }}
          >
            Setup {p.setup}
          </button>
        ))}
      </fieldset>
      <ProgramText
        text={program.text}
        marked={program.lines[here] ?? null}
        picked={pickedLine.value?.setup === setup ? pickedLine.value.line : null}
        onPick={pick}
      />
      <div class="save-row">
        {programs.map((p) => (
          <button key={p.setup} type="button" onClick={() => saveText(p.fileName, p.text, 'text/plain')}>
            Save {p.fileName}
          </button>
        ))}
      </div>
    </>
  );
};
