import type { Unit } from '../../sketch/part/part.ts';
import { aboutText, smallText } from '../../sketch/part/units.ts';
import type { OrderRow } from '../../toolpath/survival/orders.ts';
import type { ForkSqueeze } from '../../toolpath/survival/squeeze-route.ts';

/** An order by its name, with those that come out alike. */
export const orderName = ({ name, alike }: Pick<OrderRow, 'name' | 'alike'>): string =>
  alike.length === 0 ? name : `${name}; alike: ${alike.join('; ')}`;

/** What the jaws do to a fork at the moment when a cutter runs along it. */
export const squeezedWords = ({ fork, work, setup, closes }: ForkSqueeze, unit: Unit): string => {
  const held = `setup ${setup}, the jaws hold it ${closes < 0 ? 'open' : 'closed'} by ${aboutText(Math.abs(closes), unit)}`;
  return work === 'cut' ? `as ${fork} is cut, ${held}` : `as the web of ${fork} goes, ${held}`;
};

/** Figures by which orders are told apart. */
const MEASURES = ['closes', 'released', 'movement'] as const;
export type Measure = (typeof MEASURES)[number];

/** Differences smaller than this, mm, or than this many times are none: estimates are no better. */
const TOLD_APART = { least: 0.002, times: 1.1 } as const;

/** In which figures orders differ by enough to be told apart. */
export const differences = (rows: readonly OrderRow[]): readonly Measure[] => {
  const planned = rows.filter((row) => row.refused === null);
  return MEASURES.filter((key) => {
    const values = planned.map((row) => row[key]);
    const [least, most] = [Math.min(...values), Math.max(...values)];
    return most - least > TOLD_APART.least && most > TOLD_APART.times * least;
  });
};

const SAYS: Readonly<Record<Measure, string>> = {
  closes: 'While a fork is cut the jaws hold it closed by',
  released: 'While its web is released they hold it closed by',
  movement: 'Under the cutter the work moves at most by',
};

/** Why one order is better than another, with the numbers: one sentence for each figure in which they differ. */
export const orderReasons = (rows: readonly OrderRow[], unit: Unit): readonly string[] => {
  const planned = rows.filter((row) => row.refused === null);
  const [first] = planned;
  if (first === undefined) return [];
  if (rows.length === 1) {
    const all = [first.name, ...first.alike];
    return all.length < 2
      ? []
      : [`${all.length} orders come out alike, so the order is no matter here: ${all.join('; ')}.`];
  }
  return differences(rows).map((key) => {
    // An order without a web has none to release.
    const asked = key === 'released' ? planned.filter((row) => row.released > 0) : planned;
    const best = asked.reduce((a, b) => (b[key] < a[key] ? b : a));
    const worst = asked.reduce((a, b) => (b[key] > a[key] ? b : a));
    const times = worst[key] / Math.max(best[key], 1e-4);
    const more = times < 1.5 ? '' : `, ${times < 9.5 ? times.toFixed(1) : Math.round(times)} times as much`;
    return best === worst
      ? `${SAYS[key]} ${aboutText(best[key], unit)} (${best.name}).`
      : `${SAYS[key]} ${aboutText(best[key], unit)} (${best.name}) or ${smallText(worst[key], unit)} (${worst.name})${more}.`;
  });
};
