import type { Unit } from '../../sketch/part/part.ts';
import { smallFigure, unitSign } from '../../sketch/part/units.ts';
import type { SqueezeRow } from '../../toolpath/survival/squeeze-route.ts';

/** How the jaws of each setup distort the work, as it is put in and when the setup is done. Estimates. */
export const SqueezeTable = ({
  rows,
  unit,
}: {
  readonly rows: readonly SqueezeRow[];
  readonly unit: Unit;
}) => {
  if (rows.length === 0) return null;
  const forks = [
    ...new Set(rows.flatMap(({ before, after }) => (before ?? after)?.forks.map((f) => f.name) ?? [])),
  ];
  const say = (mm: number | undefined): string => (mm === undefined ? '–' : smallFigure(mm, unit));
  return (
    <div class="table-scroll">
      <table class="survey-table squeeze-table">
        <caption>What the jaws make of the work, by estimate; it springs back when they are opened</caption>
        <thead>
          <tr>
            <th scope="col">Setup</th>
            <th scope="col">It bows {unitSign(unit)}</th>
            {forks.map((name) => (
              <th key={name} scope="col">
                {name} closes {unitSign(unit)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.flatMap(({ setup, before, after }) =>
            [
              { when: 'put in', now: before },
              { when: 'done', now: after },
            ].map(({ when, now }) => (
              <tr key={`${setup} ${when}`}>
                <th scope="row">
                  {setup}, {when}
                </th>
                <td>{say(now?.bow_mm)}</td>
                {forks.map((name) => (
                  <td key={name}>{say(now?.forks.find((f) => f.name === name)?.closes_mm)}</td>
                ))}
              </tr>
            )),
          )}
        </tbody>
      </table>
    </div>
  );
};
