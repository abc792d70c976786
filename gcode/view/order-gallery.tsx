import type { Unit } from '../../sketch/part/part.ts';
import { plain, smallFigure, unitSign } from '../../sketch/part/units.ts';
import { exaggerationText } from '../survival/movement-words.ts';
import type { OrderPictures } from '../survival/order-pictures.ts';
import { orderName } from '../survival/order-words.ts';
import type { Advice } from '../survival/report.ts';
import { Key, View } from './movement-view.tsx';

/** One order of the job steps beside another in figures; those alike are one row. */
export const Orders = ({ advice, unit }: { readonly advice: Advice; readonly unit: Unit }) => {
  const sign = unitSign(unit);
  const { orders, why } = advice;
  const released = orders.some((o) => o.forkReleased_mm > 0);
  return (
    <>
      {orders.length > 1 && (
        <table class="survey-table order-table">
          <caption>Orders side by side; all estimates</caption>
          <thead>
            <tr>
              <th scope="col">Moves {sign}</th>
              <th scope="col">Tine {sign}</th>
              <th scope="col">Fork closes, cut {sign}</th>
              {released && <th scope="col">web goes {sign}</th>}
              <th scope="col">Hold ×</th>
              <th scope="col">Time min</th>
            </tr>
          </thead>
          {orders.map((o) => (
            <tbody key={o.name}>
              <tr>
                <th scope="rowgroup" colSpan={released ? 6 : 5}>
                  {orderName(o)}
                </th>
              </tr>
              <tr>
                {o.refused !== null ? (
                  <td colSpan={released ? 6 : 5}>{o.refused}</td>
                ) : (
                  <>
                    <td>{smallFigure(o.movement_mm, unit)}</td>
                    <td>{smallFigure(o.tine_mm, unit)}</td>
                    <td>{smallFigure(o.forkCloses_mm, unit)}</td>
                    {released && (
                      <td>{o.forkReleased_mm > 0 ? smallFigure(o.forkReleased_mm, unit) : '–'}</td>
                    )}
                    <td>{o.holdFactor === null ? '–' : o.holdFactor.toFixed(1)}</td>
                    <td>{plain(o.time_s / 60, 0)}</td>
                  </>
                )}
              </tr>
            </tbody>
          ))}
        </table>
      )}
      {why.map((sentence) => (
        <p key={sentence} class="remark">
          {sentence}
        </p>
      ))}
    </>
  );
};

const TITLES: Readonly<Record<OrderPictures['by'], string>> = {
  jaws: 'What the jaws make of the fork in each order',
  cutter: 'Where the work moves most in each order',
};

/** The picture of why: the same kind of moment in each order, to one scale. */
export const OrderGallery = ({ group }: { readonly group: OrderPictures }) => {
  const large = exaggerationText(group.exaggeration);
  return (
    <section class="order-gallery" aria-label={TITLES[group.by]} data-orders={group.by}>
      <h4>{TITLES[group.by]}</h4>
      <p class="aside">From above; bending {large} in all of them; dashed, the work at rest. Estimates.</p>
      <div class="order-figures">
        {group.figures.map(({ order, words, view }) => (
          <figure key={`${order} ${words}`} data-order={order}>
            <View picture={group} view={view} words={`${order}: ${words}. Bending ${large}.`} width="100%" />
            <figcaption>
              <b>{order}</b>: {words}.
            </figcaption>
          </figure>
        ))}
      </div>
      <Key picture={group} />
    </section>
  );
};
