import type { JsonObject } from '../../sketch/draft/json.ts';
import { setIn } from '../../sketch/draft/json.ts';
import { degrees, lengthText, plain } from '../../sketch/part/units.ts';
import type { Edit } from '../../sketch/view/store.ts';
import type { Cutter } from '../machine/cutter.ts';
import { canPeel } from '../passes/peel.ts';
import { openingOf, type PeelableStep, peelingCutter } from '../passes/peel-cutter.ts';
import { pressOf } from '../passes/thin-side.ts';
import type { OutlineStep, ThinStep } from '../route/route.ts';
import { adjust, Figure, type StepSentenceProps } from './step-figure.tsx';
import { putRoute } from './work.ts';

/** Angle that peeling is begun with, degrees: a slot's 180 buries the whole half, 60 is half a radius of stepover. */
const USUAL_ENGAGEMENT = 60;

/** Whether an opening is peeled, how deep that may bury the cutter, and with which cutter it could be. */
export const PeelWords = (p: StepSentenceProps & { readonly peelable: PeelableStep }) => {
  const { step, work, peelable } = p;
  const opening = openingOf(work.part, peelable);
  if (opening === null) return null;
  const radius = (p.planned?.cutter.diameter ?? 0) / 2;
  const able = canPeel({ width: opening.width, radius });
  const smaller = able ? null : peelingCutter(work.profile.cutters, opening, work.part.bar.thickness);
  const peelWith = (cutter: Cutter): Edit =>
    putRoute(p.store, work, (route) => {
      const releases = work.route.setups
        .flatMap((s) => s.steps)
        .filter((s) => s.kind === 'release' && s.of === step.name);
      const turned = setIn(route, ['adjust', step.name, 'engagement'], USUAL_ENGAGEMENT);
      return [step, ...releases].reduce(
        (r, s) => setIn(r, ['adjust', s.name, 'cutter'], cutter.name),
        turned,
      ) as JsonObject;
    });
  const offer = smaller && (
    <button type="button" class="quiet" onClick={() => peelWith(smaller)}>
      peel it with the {smaller.name}
    </button>
  );
  if (peelable.engagement === null) {
    return able ? (
      <>
        ,{' '}
        <button type="button" class="quiet" onClick={() => adjust(p, ['engagement'], USUAL_ENGAGEMENT)}>
          peel it instead
        </button>
      </>
    ) : (
      offer && <>, buried all across, for the cutter is as wide as the opening; {offer}</>
    );
  }
  return (
    <>
      , peeled in loops that bury the cutter by{' '}
      <Figure
        {...p}
        name="engagement"
        label="Angle of the rim in the material"
        value={degreesOf(peelable.engagement)}
      />
      ° at most{' '}
      <button type="button" class="quiet" onClick={() => adjust(p, ['engagement'], null)}>
        by laps instead
      </button>
      {able && <PressWords {...p} />}
      {!able && (
        <>
          {' '}
          – not with this cutter: it is as wide as the opening and goes along its middle.{' '}
          {offer ?? 'A smaller one is wanted, and none is in the drawer'}
        </>
      )}
    </>
  );
};

const degreesOf = (radians: number): number => Number(plain(degrees(radians), 1));

/** Which side the loops of a fork or slot press on: the thicker one, where the opening can be begun so. */
const PressWords = ({ step, work }: StepSentenceProps) => {
  const face = work.route.setups.find((s) => s.steps.some((one) => one.name === step.name))?.face ?? 'front';
  const press = pressOf(work.part, step, face);
  if (press === null) return null;
  const unit = work.part.unit;
  const [on, away] = [lengthText(press.on, unit), lengthText(press.away, unit)];
  switch (press.sense) {
    case 'thick':
      return (
        <>
          ; the force points into the thicker side, {on}, away from the one of {away}
        </>
      );
    case 'thin':
      return (
        <>
          ; the force points into the thinner side, {on}, for a square root is begun at the mouth: a round one
          could be cut the other way
        </>
      );
    case 'alike':
      return <>; the force points to the right of the way in, the walls being alike</>;
  }
};

/** Whether an outline or a land is cleared front by front, and how deep that may bury the cutter. */
export const GentleWords = (p: StepSentenceProps & { readonly gentle: OutlineStep | ThinStep }) =>
  p.gentle.engagement === null ? (
    <>
      ,{' '}
      <button type="button" class="quiet" onClick={() => adjust(p, ['engagement'], USUAL_ENGAGEMENT)}>
        peel it instead
      </button>
    </>
  ) : (
    <>
      , peeled from what is open, buried by{' '}
      <Figure
        {...p}
        name="engagement"
        label="Angle of the rim in the material"
        value={degreesOf(p.gentle.engagement)}
      />
      ° at most{' '}
      <button type="button" class="quiet" onClick={() => adjust(p, ['engagement'], null)}>
        by {p.gentle.kind === 'thin' ? 'strokes' : 'laps'} instead
      </button>
      {p.gentle.kind === 'outline' && p.gentle.clear === 'groove' && p.gentle.direction === 'climb' && (
        <>; the force points out of the part, into the bar round it</>
      )}
    </>
  );
