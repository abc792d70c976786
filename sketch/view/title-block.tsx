import { figure } from '../canvas/dimensions.ts';
import { bringing } from './bring-in.ts';
import { BringInCard } from './bring-in-card.tsx';
import { FileRow } from './file-row.tsx';
import { LeftBehindList } from './left-behind.tsx';
import { NewPartCard } from './new-part-card.tsx';
import { NoticeLines } from './notice-lines.tsx';
import { Questions } from './questions.tsx';
import { stage } from './stage.ts';
import type { Store } from './store.ts';
import { InAndOut } from './take-out.tsx';
import { UnderlayPanel } from './underlay-panel.tsx';

export interface Sample {
  readonly name: string;
  readonly text: string;
}

/** The head of the job card: which part this is, and the ways in and out for its file. */
export const TitleBlock = ({
  store,
  samples,
}: {
  readonly store: Store;
  readonly samples: readonly Sample[];
}) => {
  const opened = store.opened.value ?? store.shown.value;
  const unit = opened?.part.unit ?? 'mm';
  return (
    <header class="card-top">
      <h1>{opened ? opened.part.name : 'No part is open'}</h1>
      {opened && (
        <p class="bar-line">
          Bar {figure(opened.part.bar.length, unit)} × {figure(opened.part.bar.width, unit)} ×{' '}
          {figure(opened.part.bar.thickness, unit)} {unit === 'mm' ? 'mm' : 'in'}, {opened.part.bar.material}
          {store.unsaved.value ? ' · not saved' : ''}
        </p>
      )}
      <FileRow store={store} samples={samples} />
      <NoticeLines />
      <LeftBehindList />
      <Questions store={store} />
      <NewPartCard store={store} />
      {stage.value === 'Draw' && !bringing.value && <InAndOut store={store} />}
      <BringInCard store={store} />
      {stage.value === 'Draw' && <UnderlayPanel unit={unit} />}
    </header>
  );
};
