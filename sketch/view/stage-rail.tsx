import { type Mark, STAGES, type Stage, stage } from './stage.ts';

const SIGNS: Readonly<Record<Mark, string>> = {
  untouched: '○',
  working: '…',
  fine: '✓',
  'look here': '! look',
};
const CLASSES: Readonly<Record<Mark, string>> = {
  untouched: 'mark',
  working: 'mark',
  fine: 'mark mark-fine',
  'look here': 'mark mark-look',
};

/** The five stages, each with how it stands. */
export const StageRail = ({ marks }: { readonly marks: Readonly<Record<Stage, Mark>> }) => (
  <nav aria-label="Stages">
    <ol class="rail">
      {STAGES.map((s) => (
        <li key={s}>
          <button
            type="button"
            aria-current={stage.value === s ? 'step' : undefined}
            onClick={() => {
              stage.value = s;
            }}
          >
            {s}
            <span class={CLASSES[marks[s]]}>
              <span aria-hidden="true">{SIGNS[marks[s]]}</span>
              <span class="hidden-words">{marks[s]}</span>
            </span>
          </button>
        </li>
      ))}
    </ol>
  </nav>
);
