import { toScreen } from '../../sketch/canvas/camera.ts';
import { figure } from '../../sketch/canvas/dimensions.ts';
import { barRegion, type Drawing } from '../../sketch/canvas/draw-part.ts';
import { type CutLine, sectionOfSolid, spansInside } from '../../sketch/canvas/section.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import { CutHandles } from '../../sketch/view/cut-handles.tsx';
import { canHoldCut, cutLine } from '../../sketch/view/cut-line.ts';
import { DrawPanel } from '../../sketch/view/draw-panel.tsx';
import { Loupe } from '../../sketch/view/loupe.tsx';
import {
  fittingScale,
  heightFactor,
  type SectionPicture,
  SectionView,
} from '../../sketch/view/section-view.tsx';
import { drawerOpen, stage } from '../../sketch/view/stage.ts';
import { StageRail } from '../../sketch/view/stage-rail.tsx';
import type { Store } from '../../sketch/view/store.ts';
import { type Sample, TitleBlock } from '../../sketch/view/title-block.tsx';
import { applyRouteDocument } from '../../toolpath/route/document.ts';
import { CutPanel } from '../../toolpath/view/cut-panel.tsx';
import { FilmStrip } from '../../toolpath/view/film-strip.tsx';
import { HoldPanel } from '../../toolpath/view/hold-panel.tsx';
import { shownSetup, shownStill } from '../../toolpath/view/showing.ts';
import { titleOf } from '../../toolpath/view/step-sentence.tsx';
import type { Still } from '../../toolpath/view/work.ts';
import type { Bench } from './bench.ts';
import { FindingMarks } from './finding-marks.tsx';
import { marksOf } from './marks.ts';
import { pickedFinding } from './picking.ts';
import { ProvePanel } from './prove-panel.tsx';
import { TakeAwayPanel } from './take-away-panel.tsx';

export interface DeskProps {
  readonly store: Store;
  readonly bench: Bench;
  readonly sheet: Sheet;
  readonly samples: readonly Sample[];
  readonly drawing: { readonly value: Drawing | null };
  readonly stills: { readonly value: readonly Still[] };
  readonly onFit: () => void;
  readonly onShow: (still: number) => void;
}

/** Everything that lies on the sheet: the rail, the job card, the side section and the pass strip. */
export const Desk = (p: DeskProps) => {
  const { store, bench, sheet } = p;
  const opened = store.opened.value;
  const proof = bench.proof.value;
  return (
    <>
      <StageRail marks={marksOf(store, bench)} />
      <Loupe sheet={sheet} onFit={p.onFit} />
      {opened && canHoldCut(stage.value, sheet.viewport.value.width) && (
        <CutHandles sheet={sheet} unit={opened.part.unit} />
      )}
      {stage.value === 'Prove' && proof && <FindingMarks sheet={sheet} proof={proof} />}
      <SecondView {...p} />
      <FilmStrip
        work={bench.work.value}
        stills={p.stills.value}
        sections={bench.sections.value}
        shown={shownStill.value}
        onShow={p.onShow}
        progress={bench.progress.value}
        pictureOf={(i) => pictureOf(p, i)}
      />
      <aside class={drawerOpen.value ? 'card open' : 'card'} aria-label="Job card">
        <button
          type="button"
          class="drawer-handle"
          aria-expanded={drawerOpen.value}
          onClick={() => {
            drawerOpen.value = !drawerOpen.value;
          }}
        >
          <span>
            {stage.value}: {opened?.part.name ?? 'no part'}
          </span>
          <span aria-hidden="true">{drawerOpen.value ? '▼' : '▲'}</span>
        </button>
        <TitleBlock store={store} samples={p.samples} />
        <div class="card-body" tabIndex={-1}>
          {bench.failure.value && (
            <p class="wrong" role="alert">
              Planning stopped: {bench.failure.value}
            </p>
          )}
          <Panel {...p} />
        </div>
      </aside>
    </>
  );
};

const Panel = (p: DeskProps) => {
  const { store, bench } = p;
  const made = bench.work.value;
  const opened = store.opened.value;
  if (stage.value === 'Draw') return <DrawPanel store={store} />;
  if (!made || !opened) return <p class="aside">{bench.progress.value ?? 'No part is open.'}</p>;
  // The file's wishes are shown as they stand, while the passes they lead to are still being made.
  const wished = applyRouteDocument(made.proposed, opened.document.route, made.part.unit);
  const work = { ...made, route: wished.route };
  const still = p.stills.value[shownStill.value] ?? null;
  switch (stage.value) {
    case 'Hold':
      return (
        <HoldPanel
          store={store}
          work={work}
          shown={shownSetup.value}
          onShow={(n) => {
            shownSetup.value = n;
          }}
        />
      );
    case 'Cut':
      return (
        <CutPanel
          store={store}
          work={work}
          still={still}
          onShow={(name) => {
            const first = p.stills.value.find((s) => s.step.step.name === name);
            if (first) p.onShow(first.index);
          }}
        />
      );
    case 'Prove':
      return (
        <ProvePanel
          proof={bench.proof.value}
          progress={bench.progress.value}
          unit={opened.part.unit}
          picked={pickedFinding.value}
          onPick={(i) => {
            pickedFinding.value = i;
          }}
        />
      );
    case 'Take away':
      return (
        <TakeAwayPanel bench={bench} work={work} still={still} stills={p.stills.value} onShow={p.onShow} />
      );
  }
};

/** What stands along the section line after a pass; null while it is not yet worked out. */
const pictureOf = (p: DeskProps, index: number): SectionPicture | null => {
  const section = p.bench.sections.value[index];
  const still = p.stills.value[index];
  const frame = sectionFrame(p);
  if (!section || !still || !frame) return null;
  return { ...frame, metal: section.metal, web: section.web, turned: still.setup.frame.face === 'back' };
};

type SectionFrame = Omit<SectionPicture, 'metal' | 'web' | 'turned'>;

const sectionFrame = (p: DeskProps): SectionFrame | null => {
  const d = p.drawing.value;
  const cut = cutLine.value;
  if (!d || !cut) return null;
  return {
    wanted: sectionOfSolid(d.solid, cut),
    length: Math.max(1, Math.hypot(cut.to.x - cut.from.x, cut.to.y - cut.from.y)),
    low: 0,
    high: d.part.bar.thickness,
  };
};

/** Height of the side section, pixels. */
const BAND = { desk: 122, phone: 64 };

const SecondView = (p: DeskProps) => {
  const drawing = p.drawing.value;
  const frame = sectionFrame(p);
  const cut = cutLine.value;
  if (!drawing || !frame || !cut) return null;
  const finished = stage.value === 'Draw';
  const index = stage.value === 'Hold' ? beforeSetup(p) : shownStill.value;
  const still = p.stills.value[index];
  const picture: SectionPicture | null = finished
    ? { ...frame, metal: frame.wanted, web: [], turned: false }
    : index < 0
      ? barPicture(p, frame)
      : pictureOf(p, index);
  if (!picture) return null;
  const v = p.sheet.viewport.value;
  const width = v.width - v.covered.left - v.covered.right;
  const height = v.width <= 760 ? BAND.phone : BAND.desk;
  const under = underPlan(p.sheet, cut, frame, width, height);
  const unit = drawing.part.unit;
  const u = unit === 'mm' ? 'mm' : 'in';
  const left = p.bench.sections.value[index]?.webLeft ?? null;
  const web = finished
    ? ''
    : left === null
      ? 'no web on this line'
      : `web ${figure(left, unit)} ${u}, hatched`;
  const moment = finished
    ? 'the finished part'
    : stage.value === 'Hold'
      ? `as setup ${shownSetup.value} begins`
      : still
        ? `after pass ${still.index + 1}, ${titleOf(still.step.step)}`
        : 'the bar';
  const factor = heightFactor(
    picture,
    under?.scale ?? fittingScale(picture, width - 12, height - 12),
    height - 12,
  );
  const words = `Section A – A, ${moment}${web ? `, ${web}` : ''}`;
  return (
    <section class="second-view" data-web={finished ? '' : (left ?? 0)}>
      <figure>
        <SectionView picture={picture} under={under} width={width} height={height} label={words} />
        <figcaption>
          <b>A – A</b>
          <span>{moment}</span>
          {web && <span class={left === null ? '' : 'web-words'}>{web}</span>}
          {factor > 1 && <span>heights × {factor}</span>}
        </figcaption>
      </figure>
    </section>
  );
};

/** The last pass before the setup that is shown; −1 for the bar itself. */
const beforeSetup = (p: DeskProps): number =>
  (p.stills.value.find((s) => s.setup.setup.number === shownSetup.value)?.index ?? 0) - 1;

/** The bar before anything is cut. */
const barPicture = (p: DeskProps, frame: SectionFrame): SectionPicture | null => {
  const bar = p.drawing.value?.part.bar;
  const cut = cutLine.value;
  if (!bar || !cut) return null;
  const sawn = {
    ...bar,
    corner: { x: bar.corner.x - bar.sawn, y: bar.corner.y },
    length: bar.length + 2 * bar.sawn,
  };
  const metal = spansInside(barRegion(sawn), cut).map(([from, to]) => ({
    from,
    to,
    bottom: 0,
    top: bar.thickness,
  }));
  return { ...frame, metal, web: [], turned: false };
};

/** A level section stands right under the plan, to the same scale, where there is room; any other is fitted. */
const underPlan = (
  sheet: Sheet,
  cut: CutLine,
  frame: { readonly length: number; readonly high: number; readonly low: number },
  width: number,
  height: number,
): { left: number; scale: number } | null => {
  const level = Math.abs(cut.from.y - cut.to.y) < 1e-6 && cut.to.x > cut.from.x;
  const { scale } = sheet.camera.value;
  if (!level || (frame.high - frame.low) * scale > height - 12) return null;
  const v = sheet.viewport.value;
  const left = toScreen(sheet.camera.value, v, cut.from).x - v.covered.left;
  return left < -width || left > width ? null : { left, scale };
};
