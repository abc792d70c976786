import { useSignal } from '@preact/signals';
import { figure } from '../../sketch/canvas/dimensions.ts';
import type { Unit } from '../../sketch/part/part.ts';
import type { Proof, ProofSetupReport } from '../proof/proof.ts';
import { timeText } from '../table/figures.ts';
import type { ForeignProgram } from './bench.ts';
import { EngagementNumbers } from './engagement-numbers.tsx';

interface ProvePanelProps {
  readonly proof: Proof | null;
  readonly progress: string | null;
  /** How far the proof is, 0 to 1; null while none is under way. */
  readonly proving: number | null;
  readonly stopped: boolean;
  readonly onStop: () => void;
  readonly onAgain: (program?: ForeignProgram | null) => void;
  /** The program from a file that was proven; null for the plan's own. */
  readonly foreign: ForeignProgram | null;
  /** Numbers of the setups. */
  readonly setups: readonly number[];
  /** The plan has errors, so that there is nothing to prove. */
  readonly held: boolean;
  readonly unit: Unit;
  readonly picked: number | null;
  readonly onPick: (finding: number) => void;
}

/** The Prove stage: the verdict on the written programs, where each finding lies, and the numbers behind it. */
export const ProvePanel = (p: ProvePanelProps) => {
  const { proof, progress, held, unit, picked, onPick } = p;
  if (p.proving !== null) return <Proving share={p.proving} onStop={p.onStop} />;
  if (!proof && p.stopped) {
    return (
      <p class="aside">
        The proof was stopped: nothing is said of these programs.{' '}
        <button type="button" onClick={() => p.onAgain(p.foreign)}>
          Prove again
        </button>
      </p>
    );
  }
  if (!proof && held) {
    return <p class="wrong">Nothing to prove yet: Hold or Cut has findings that must be mended first.</p>;
  }
  if (!proof) return <p class="aside">{progress ?? 'The proof follows when the passes are planned.'}</p>;
  const u = unit === 'mm' ? 'mm' : 'in';
  const fits = proof.verdict === 'fits';
  return (
    <div class="proof">
      <p class={fits ? 'verdict verdict-fits' : 'verdict verdict-not'} data-verdict={proof.verdict}>
        {fits ? 'It fits.' : 'It does not fit.'}
      </p>
      <p class="aside">
        The programs were read back line by line, cut out of the bar on paper, and compared with the part. The
        comparison sees {figure(proof.resolution_mm, unit)} {u} across; walls and floors are measured finer
        than that.
      </p>
      <OtherProgram foreign={p.foreign} setups={p.setups} onProve={p.onAgain} />
      <dl class="numbers">
        <dt>Deepest gouge</dt>
        <dd>
          {size(proof.gougeMax_mm, unit)} {u}
        </dd>
        <dt>Most left on</dt>
        <dd>
          {size(proof.excessMax_mm, unit)} {u}
        </dd>
      </dl>
      <h2>
        {proof.findings.length === 0
          ? 'No findings'
          : `${proof.findings.length} ${proof.findings.length === 1 ? 'finding' : 'findings'}`}
      </h2>
      <ol class="findings">
        {proof.findings.map((f, i) => (
          <li
            key={`${f.code}${f.message}`}
            class={picked === i ? 'picked' : ''}
            data-finding={i}
            data-code={f.code}
          >
            <button
              type="button"
              class={`finding finding-${f.severity}`}
              aria-pressed={picked === i}
              onClick={() => onPick(i)}
            >
              {f.setup !== undefined && `Setup ${f.setup}: `}
              {f.message}
              {f.at === undefined && <span class="aside"> (no one place)</span>}
            </button>
          </li>
        ))}
      </ol>
      <EngagementNumbers proof={proof} />
      {proof.setups.map((s) => (
        <SetupNumbers key={s.number} report={s} unit={unit} />
      ))}
      <p class="caution">
        A proof on paper knows nothing of a loose jaw, a dull cutter or backlash. Dry-run above the work
        first, and follow the machine's manual and your training.
      </p>
    </div>
  );
};

const Proving = ({ share, onStop }: { readonly share: number; readonly onStop: () => void }) => (
  <p class="aside proving">
    <label for="proving">Proving the programs</label> <progress id="proving" max={1} value={share} />{' '}
    <button type="button" onClick={onStop}>
      Stop
    </button>
  </p>
);

interface OtherProgramProps {
  readonly foreign: ForeignProgram | null;
  readonly setups: readonly number[];
  readonly onProve: (program: ForeignProgram | null) => void;
}

/** A program edited by hand, or from elsewhere, proven in the place of a setup's own. */
const OtherProgram = ({ foreign, setups, onProve }: OtherProgramProps) => {
  const setup = useSignal(setups[0] ?? 1);
  if (foreign) {
    return (
      <p class="aside" data-foreign>
        This is the proof of {foreign.fileName} in the place of setup {foreign.setup}’s own program.{' '}
        <button type="button" onClick={() => onProve(null)}>
          Prove the plan’s own
        </button>
      </p>
    );
  }
  return (
    <details>
      <summary>Prove a program from a file</summary>
      <p>
        <label>
          In the place of setup{' '}
          <select
            value={setup.value}
            onChange={(e) => {
              setup.value = Number(e.currentTarget.value);
            }}
          >
            {setups.map((n) => (
              <option key={n} value={n}>
                {n}
              </option>
            ))}
          </select>
        </label>{' '}
        <label>
          the program{' '}
          <input
            type="file"
            accept=".ngc,.nc,.txt,text/plain"
            onChange={async (e) => {
              const file = e.currentTarget.files?.[0];
              if (file) onProve({ setup: setup.value, fileName: file.name, text: await file.text() });
            }}
          />
        </label>
      </p>
    </details>
  );
};

const SetupNumbers = ({ report, unit }: { readonly report: ProofSetupReport; readonly unit: Unit }) => {
  const u = unit === 'mm' ? 'mm' : 'in';
  const k = unit === 'mm' ? 1 : 1 / 25.4;
  return (
    <section>
      <h3>Setup {report.number}</h3>
      <dl class="numbers">
        <dt>Deepest gouge</dt>
        <dd>
          {size(report.gougeMax_mm, unit)} {u}
        </dd>
        <dt>Most left on</dt>
        <dd>
          {size(report.excessMax_mm, unit)} {u}
        </dd>
        <dt>Rapids through metal</dt>
        <dd>{report.rapidsInStock}</dd>
        <dt>Moves into what holds it</dt>
        <dd>{report.jawHits}</dd>
        <dt>Path under feed</dt>
        <dd>
          {(report.cutLength_mm * k).toFixed(unit === 'mm' ? 0 : 1)} {u}
        </dd>
        <dt>Path in rapid</dt>
        <dd>
          {(report.rapidLength_mm * k).toFixed(unit === 'mm' ? 0 : 1)} {u}
        </dd>
        <dt>Time</dt>
        <dd>{timeText(report.time_s)}</dd>
      </dl>
    </section>
  );
};

/** A size of error: a hundredth of a millimetre is worth showing a thousandth of. */
const size = (mm: number, unit: Unit): string => (unit === 'mm' ? mm.toFixed(3) : (mm / 25.4).toFixed(4));
