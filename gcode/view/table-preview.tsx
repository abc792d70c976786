import { useMemo } from 'preact/hooks';
import type { Still } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import { figure, unitSign } from '../table/figures.ts';
import { tableOf } from '../table/table.ts';

/** The coordinate table's rows for the pass under the slider: what the handwheels are set to. */
export const TablePreview = ({ work, still }: { readonly work: PlannedPart; readonly still: Still }) => {
  const { unit } = work.part;
  const table = useMemo(() => tableOf(work.plan, unit, work.profile), [work]);
  const rows = (table.setups.find((s) => s.number === still.setup.setup.number)?.rows ?? []).filter(
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
