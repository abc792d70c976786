import type { SqueezeRow } from '../../toolpath/survival/squeeze-route.ts';

/** How the jaws of each setup distort the work, as it is put in and when the setup is done. Estimates. */
export const SqueezeTable = ({ rows }: { readonly rows: readonly SqueezeRow[] }) => {
  if (rows.length === 0) return null;
  const forks = [
    ...new Set(rows.flatMap(({ before, after }) => (before ?? after)?.forks.map((f) => f.name) ?? [])),
  ];
  return (
    <div class="table-scroll">
      <table class="survey-table squeeze-table">
        <caption>What the jaws make of the work, by estimate; it springs back when they are opened</caption>
        <thead>
          <tr>
            <th scope="col">Setup</th>
            <th scope="col">It bows mm</th>
            {forks.map((name) => (
              <th key={name} scope="col">
                {name} closes mm
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
                <td>{now?.bow_mm.toFixed(3) ?? '–'}</td>
                {forks.map((name) => (
                  <td key={name}>{now?.forks.find((f) => f.name === name)?.closes_mm.toFixed(3) ?? '–'}</td>
                ))}
              </tr>
            )),
          )}
        </tbody>
      </table>
    </div>
  );
};
