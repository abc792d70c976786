import type { Still } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import { figure, unitSign } from '../table/figures.ts';
import { setupRows } from '../table/rows.ts';

/** The coordinate table's rows for the pass under the slider: what the handwheels are set to. */
export const TablePreview = ({ work, still }: { readonly work: PlannedPart; readonly still: Still }) => {
  const { unit } = work.part;
  const rows = setupRows(still.setup, unit).filter(
    (r) => r.step === still.step.step.name && r.pass === still.passNumber,
  );
  return (
    <div class="table-scroll">
      <table class="places">
        <caption>
          Setup {still.setup.setup.number}, {still.step.step.name}, pass {still.passNumber}: centre and tip of
          the cutter, {unitSign(unit)}
        </caption>
        <thead>
          <tr>
            <th scope="col">X</th>
            <th scope="col">Y</th>
            <th scope="col">Z</th>
            <th scope="col">Note</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r, i) => (
            <tr key={`${i}:${r.at.x},${r.at.y},${r.at.z}`}>
              <td>{figure(r.at.x, unit)}</td>
              <td>{figure(r.at.y, unit)}</td>
              <td>{figure(r.at.z, unit)}</td>
              <td>{r.note}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
};
