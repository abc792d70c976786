import type { Unit } from '../../sketch/part/part.ts';
import { mmPer, plain, unitSign } from '../../sketch/part/units.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import type { Still } from '../../toolpath/view/work.ts';
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
  pass.error === null || !pass.finishes[what]
    ? '–'
    : `${pass.basis === 'solved' ? '' : '≈ '}${movementCell(pass.error[what], unit)}`;

interface SurveyTableProps {
  readonly unit: Unit;
  readonly passes: readonly PassSurvival[];
  readonly still: Still | null;
  readonly onShow: (still: number) => void;
}

/** The estimates in figures, one row to a pass; its name shows the pass. */
export const SurveyTable = ({ unit, passes, still, onShow }: SurveyTableProps) => {
  const sign = unitSign(unit);
  return (
    <div class="table-scroll">
      <table class="survey-table">
        <caption>Estimates for every pass; those marked ≈ are not solved yet</caption>
        <thead>
          <tr>
            <th scope="col">Pass</th>
            <th scope="col">Force N</th>
            <th scope="col">Moves {sign}</th>
            <th scope="col">Wall {sign}</th>
            <th scope="col">Floor {sign}</th>
            <th scope="col">Hold ×</th>
            <th scope="col">Web {sign}</th>
            <th scope="col">Rings Hz</th>
            <th scope="col">Teeth Hz</th>
          </tr>
        </thead>
        <tbody>
          {passes.map((pass, i) => (
            <tr
              key={`${i}:${pass.force.label}`}
              aria-current={pass.force.still === still?.index ? 'step' : undefined}
            >
              <th scope="row">
                <button type="button" class="quiet" onClick={() => showPass(pass, onShow)}>
                  {pass.force.label}
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
              <td>{pass.hold === null ? '–' : pass.hold.least > 99 ? '> 99' : pass.hold.least.toFixed(1)}</td>
              <td>{pass.web === null ? '–' : plain(pass.web / mmPer(unit), unit === 'mm' ? 2 : 3)}</td>
              <td>{pass.frequency === null ? '–' : plain(pass.frequency, 0)}</td>
              <td>{plain(pass.toothPassing, 0)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
};
