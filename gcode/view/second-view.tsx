import { toScreen } from '../../sketch/canvas/camera.ts';
import { figure } from '../../sketch/canvas/dimensions.ts';
import { barRegion, type Drawing } from '../../sketch/canvas/draw-part.ts';
import { type CutLine, sectionOfSolid, threadsInSection } from '../../sketch/canvas/section.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import { type SideMarks, sideMarksOf } from '../../sketch/part/side-marks.ts';
import { type Side, type SideView, sideViewOf } from '../../sketch/part/side-view.ts';
import { spansInside } from '../../sketch/shape/spans.ts';
import { LOW } from '../../sketch/view/covered.ts';
import { cutLine } from '../../sketch/view/cut-line.ts';
import {
  projection,
  SecondViewChoice,
  type SecondView as SecondViewKind,
  secondView,
  sideOf,
} from '../../sketch/view/second-view-choice.tsx';
import {
  fittingScale,
  heightFactor,
  type SectionPicture,
  SectionView,
} from '../../sketch/view/section-view.tsx';
import { SidePicture } from '../../sketch/view/side-picture.tsx';
import { stage } from '../../sketch/view/stage.ts';
import type { SectionStill } from '../../toolpath/view/film-pictures.ts';
import { shownSetup, shownStill } from '../../toolpath/view/showing.ts';
import { titleOf } from '../../toolpath/view/step-sentence.tsx';
import type { ShopProps } from './workshop.tsx';

/** A pass's picture is made once for its section, so that what has not changed is not drawn again. */
const pictures = new WeakMap<SectionStill, SectionPicture>();

/** What stands along the section line after a pass; null while it is not yet worked out. */
export const pictureOf = (p: ShopProps, index: number): SectionPicture | null => {
  const section = p.bench.sections.value[index];
  const still = p.stills.value[index];
  const frame = sectionFrame(p);
  if (!section || !still || !frame) return null;
  const known = pictures.get(section);
  if (known && known.wanted === frame.wanted) return known;
  const { metal, web } = section;
  const picture = { ...frame, metal, web, turned: still.setup.frame.face === 'back' };
  pictures.set(section, picture);
  return picture;
};

type SectionFrame = Omit<SectionPicture, 'metal' | 'web' | 'turned'>;

const sectionFrame = (p: ShopProps): SectionFrame | null => {
  const d = p.drawing.value;
  const cut = cutLine.value;
  if (!d || !cut) return null;
  if (lastFrame?.drawing !== d || lastFrame.cut !== cut) {
    const frame = {
      wanted: sectionOfSolid(d.solid, cut),
      threads: threadsInSection(d.part, cut),
      length: Math.max(1, Math.hypot(cut.to.x - cut.from.x, cut.to.y - cut.from.y)),
      low: 0,
      high: d.part.bar.thickness,
    };
    lastFrame = { drawing: d, cut, frame };
  }
  return lastFrame.frame;
};

let lastFrame: { readonly drawing: Drawing; readonly cut: CutLine; readonly frame: SectionFrame } | null =
  null;

/** Height of the side section, pixels. */
const BAND = { desk: 122, low: 90, phone: 64 };

/** The second view under the plan: the part cut along A – A, at the moment that is shown. */
export const SecondView = (p: ShopProps) => {
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
  const height = v.width <= 760 ? BAND.phone : v.height < LOW ? BAND.low : BAND.desk;
  if (finished && secondView.value !== 'section' && drawing.solid.slabs.length > 0) {
    return (
      <Outside drawing={drawing} sheet={p.sheet} view={secondView.value} width={width} height={height} />
    );
  }
  const under = underPlan(p.sheet, cut, frame, width, height);
  const unit = drawing.part.unit;
  const u = unit === 'mm' ? 'mm' : 'in';
  const left = p.bench.sections.value[index]?.webLeft ?? null;
  const silent = finished || (stage.value === 'Hold' && left === null);
  const web = silent ? '' : left === null ? 'no web on this line' : `web ${figure(left, unit)} ${u}, hatched`;
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
    <section class="second-view" aria-label="Second view" data-web={finished ? '' : (left ?? 0)}>
      <figure>
        <SectionView picture={picture} under={under} width={width} height={height} label={words} />
        <figcaption>
          {!finished && <b>A – A</b>}
          <span>{moment}</span>
          {web && <span class={left === null ? '' : 'web-words'}>{web}</span>}
          {factor > 1 && <span>heights × {factor}</span>}
          {finished && <SecondViewChoice />}
        </figcaption>
      </figure>
    </section>
  );
};

interface OutsideProps {
  readonly drawing: Drawing;
  readonly sheet: Sheet;
  readonly view: Exclude<SecondViewKind, 'section'>;
  readonly width: number;
  readonly height: number;
}

/** Room for heights beside a view that is fitted, pixels. */
const BESIDE = 150;

/** The finished part seen from outside: an edge right under the plan and to its scale, an end in the middle. */
const Outside = ({ drawing, sheet, view, width, height }: OutsideProps) => {
  const { bar, unit } = drawing.part;
  const side = sideOf(view, projection.value);
  const { picture, marks } = outsideOf(drawing, side);
  const whole = marks.heights[0];
  if (!whole) return null;
  const { camera, viewport } = sheet;
  const most = (height - 12) / bar.thickness;
  const under = view === 'edge' && camera.value.scale <= most;
  const scale = under
    ? camera.value.scale
    : Math.min(camera.value.scale, most, (width - BESIDE) / (whole.to - whole.from));
  const origin = under
    ? toScreen(camera.value, viewport.value, { x: 0, y: 0 }).x - viewport.value.covered.left
    : (width - (whole.from + whole.to) * scale) / 2;
  const words = `seen from the ${side}`;
  return (
    <section class="second-view" aria-label="Second view" data-web="" data-side={side}>
      <figure>
        <SidePicture
          view={picture}
          marks={marks}
          unit={unit}
          scale={scale}
          origin={origin}
          low={0}
          high={bar.thickness}
          turned={side === 'upper edge'}
          width={width}
          height={height}
          label={`The finished part ${words}`}
        />
        <figcaption>
          {view === 'edge' && <span>the {side}</span>}
          <SecondViewChoice />
        </figcaption>
      </figure>
    </section>
  );
};

let lastOutside: {
  readonly drawing: Drawing;
  readonly side: Side;
  readonly seen: { readonly picture: SideView; readonly marks: SideMarks };
} | null = null;

/** Worked out anew when the part or the side changes, not when the sheet is moved. */
const outsideOf = (drawing: Drawing, side: Side) => {
  if (lastOutside?.drawing !== drawing || lastOutside.side !== side) {
    const { part, outline, solid } = drawing;
    const seen = { picture: sideViewOf(solid, side), marks: sideMarksOf(part, outline, solid, side) };
    lastOutside = { drawing, side, seen };
  }
  return lastOutside.seen;
};

/** The last pass before the setup that is shown; −1 for the bar itself. */
const beforeSetup = (p: ShopProps): number =>
  (p.stills.value.find((s) => s.setup.setup.number === shownSetup.value)?.index ?? 0) - 1;

/** The bar before anything is cut. */
const barPicture = (p: ShopProps, frame: SectionFrame): SectionPicture | null => {
  const bar = p.drawing.value?.part.bar;
  const cut = cutLine.value;
  if (!bar || !cut) return null;
  const sawn = {
    ...bar,
    corner: { x: bar.corner.x - bar.sawn, y: bar.corner.y },
    length: bar.length + 2 * bar.sawn,
  };
  const metal = spansInside(barRegion(sawn), cut.from, cut.to).map(([from, to]) => ({
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
