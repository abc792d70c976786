import { Fragment } from 'preact';
import type { Unit } from '../../sketch/part/part.ts';
import { mmPer, plain, unitSign } from '../../sketch/part/units.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import type { Still } from '../../toolpath/view/work.ts';
import { holdCell, ringsCell } from '../survival/cells.ts';
import { movementCell } from '../survival/movement-words.ts';

/** Shows a pass on the drawing, the section and the strip, where it is among those planned. */
export const showPass = (pass: PassSurvival | undefined, onShow: (still: number) => void): void => {
  if (pass && pass.force.still !== null) onShow(pass.force.still);
};

/** Across for a cutter, along for a drill. */
const forceText = ({ force }: PassSurvival): string =>
  plain(Math.max(force.most, force.thrust), 0).replace(/^0$/, '–');

/** What the pass leaves on a wall or floor of the finished part; a dash where it leaves an allowance, or none. */
const leftText = (pass: PassSurvival, what: 'wall' | 'floor', unit: Unit): string =>
  pass.error === null || !pass.finishes[what] ? '–' : movementCell(pass.error[what], unit);

/** Which pass of its job step it is, as short as its name allows. */
const shortLabel = ({ force }: PassSurvival): string => {
  const within = force.label.startsWith(`${force.step}, `)
    ? force.label.slice(force.step.length + 2)
    : force.label;
  return within.replace(/^pass /, '');
};

interface SurveyTableProps {
  readonly unit: Unit;
  readonly passes: readonly PassSurvival[];
  readonly still: Still | null;
  readonly onShow: (still: number) => void;
}

/** The estimates in figures, one row to a pass under its job step; its number shows the pass. */
export const SurveyTable = ({ unit, passes, still, onShow }: SurveyTableProps) => {
  const sign = unitSign(unit);
  const heads: readonly (readonly [string, string])[] = [
    ['Force', 'N'],
    ['Moves', sign],
    ['Wall', sign],
    ['Floor', sign],
    ['Hold', '×'],
    ['Web', sign],
    ['Rings', 'Hz'],
    ['Teeth', 'Hz'],
  ];
  return (
    <>
      <p class="survey-caption" id="survey-caption">
        Estimates for every pass. ≈: not solved, by closed forms. Wall and floor: what is left on those of the
        finished part.
      </p>
      <div class="table-scroll">
        <table class="survey-table pass-table" aria-labelledby="survey-caption">
          <thead>
            <tr>
              <th scope="col" aria-label="Pass" />
              {heads.map(([name, own]) => (
                <th key={name} scope="col">
                  {name} <span class="head-unit">{own}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {passes.map((pass, i) => {
              const { force } = pass;
              const before = passes[i - 1]?.force;
              const begins = before?.step !== force.step || before.setup !== force.setup;
              return (
                <Fragment key={`${i}:${force.label}`}>
                  {begins && (
                    <tr class="group">
                      <th scope="rowgroup" colSpan={heads.length + 1}>
                        {force.setup}. {force.step}
                      </th>
                    </tr>
                  )}
                  <tr
                    data-pass={force.label}
                    aria-current={force.still !== null && force.still === still?.index ? 'step' : undefined}
                  >
                    <th scope="row">
                      <button
                        type="button"
                        class="quiet"
                        aria-label={force.label}
                        onClick={() => showPass(pass, onShow)}
                      >
                        {shortLabel(pass)}
                      </button>
                    </th>
                    <td>{forceText(pass)}</td>
                    <td>
                      {pass.movement === null
                        ? '–'
                        : `${pass.basis === 'solved' ? '' : '≈ '}${movementCell(pass.movement, unit)}`}
                    </td>
                    <td>{leftText(pass, 'wall', unit)}</td>
                    <td>{leftText(pass, 'floor', unit)}</td>
                    <td>{holdCell(pass.hold?.least ?? null)}</td>
                    <td>{pass.web === null ? '–' : plain(pass.web / mmPer(unit), unit === 'mm' ? 2 : 3)}</td>
                    <td>{ringsCell(pass.frequency)}</td>
                    <td>{plain(pass.toothPassing, 0)}</td>
                  </tr>
                </Fragment>
              );
            })}
          </tbody>
        </table>
      </div>
    </>
  );
};
