import { signal } from '@preact/signals';
import type { Side } from '../part/side-view.ts';

/** What the second view of the finished part shows: cut through, or seen from outside. */
export type SecondView = 'section' | 'edge' | 'left end' | 'right end';
/** Which side of the plan a view stands on (ISO 5456-2). */
export type Projection = 'third angle' | 'first angle';

export const secondView = signal<SecondView>('section');
export const projection = signal<Projection>('third angle');

const VIEWS: Readonly<Record<SecondView, string>> = {
  section: 'section A – A',
  edge: 'from the edge',
  'left end': 'from the left end',
  'right end': 'from the right end',
};

/**
 * Where the onlooker of a view stands. What stands under the plan is the lower edge in third angle; in first angle it
 * is what is seen from the upper edge.
 */
export const sideOf = (view: Exclude<SecondView, 'section'>, angle: Projection): Side =>
  view === 'edge' ? (angle === 'third angle' ? 'lower edge' : 'upper edge') : view;

/** Chooses the second view, and for the edge view the projection. */
export const SecondViewChoice = () => (
  <span class="view-choice">
    <select
      class="choice"
      aria-label="What the second view shows"
      value={secondView.value}
      onChange={(e) => {
        secondView.value = e.currentTarget.value as SecondView;
      }}
    >
      {Object.entries(VIEWS).map(([value, words]) => (
        <option key={value} value={value}>
          {words}
        </option>
      ))}
    </select>
    {secondView.value === 'edge' && (
      <button
        type="button"
        class="projection"
        aria-label={`Projection: ${projection.value}. Press for ${other(projection.value)}.`}
        onClick={() => {
          projection.value = other(projection.value);
        }}
      >
        <ProjectionSign angle={projection.value} />
        <span aria-hidden="true">{projection.value}</span>
      </button>
    )}
  </span>
);

const other = (p: Projection): Projection => (p === 'third angle' ? 'first angle' : 'third angle');

/** The sign of ISO 5456-2: a blunt cone and its view from the thin end, which stands left in third angle, right in first. */
const ProjectionSign = ({ angle }: { readonly angle: Projection }) => {
  const [cone, rings] = angle === 'third angle' ? [22, 9] : [4, 33];
  return (
    <svg class="projection-sign" viewBox="0 0 42 18" width="42" height="18" aria-hidden="true">
      <path d={`M${cone} 6 L${cone + 16} 2 V16 L${cone} 12 Z`} />
      <circle cx={rings} cy="9" r="7" />
      <circle cx={rings} cy="9" r="3" />
      <path class="chain" d={`M${cone - 3} 9 H${cone + 19} M${rings - 8.5} 9 h17 M${rings} .5 v17`} />
    </svg>
  );
};
