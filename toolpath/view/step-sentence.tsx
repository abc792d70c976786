import type { ComponentChildren } from 'preact';
import type { Json, JsonObject } from '../../sketch/draft/json.ts';
import { getIn, setIn } from '../../sketch/draft/json.ts';
import { degrees, MM_PER_INCH, plain } from '../../sketch/part/units.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit, Store } from '../../sketch/view/store.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { PlannedStep } from '../passes/pass.ts';
import { canPeel } from '../passes/peel.ts';
import { openingOf, type PeelableStep, peelingCutter } from '../passes/peel-cutter.ts';
import type { JobStep, OutlineStep, ThinStep } from '../route/route.ts';
import { inUnit, putRoute, type Work } from './work.ts';

interface StepSentenceProps {
  readonly store: Store;
  readonly work: Work;
  readonly step: JobStep;
  /** What planning made of it; null when it could not be cut. */
  readonly planned: PlannedStep | null;
  /** Numbers of job steps by name, for "released in step 7". */
  readonly numbers: ReadonlyMap<string, number>;
  /** Shows the job step's first pass. */
  readonly onShow: () => void;
}

/** What a job step does, as one would write it on a card, every figure of it to be changed in place. */
export const StepSentence = (p: StepSentenceProps) => {
  const { step, work, store } = p;
  const adjusted = getIn(store.opened.value?.document ?? {}, ['route', 'adjust', step.name]) !== undefined;
  const back = (): Edit =>
    putRoute(store, work, (route) => setIn(route, ['adjust', step.name], undefined) as JsonObject);
  return (
    <>
      <button type="button" class="what" onClick={p.onShow}>
        {titleOf(step)}
      </button>
      , <CutterChoice {...p} />
      {what(p)}. <Rates {...p} />
      {adjusted && (
        <>
          {' '}
          <button type="button" class="quiet" onClick={back}>
            put back as proposed
          </button>
        </>
      )}
    </>
  );
};

/** A job step's name as the head of its sentence; a fork that is called “fork” is said once. */
export const titleOf = (step: JobStep): string => {
  const name = step.name.replace(/\b(\w+) \1\b/, '$1');
  return name.charAt(0).toUpperCase() + name.slice(1);
};

const adjust = (p: StepSentenceProps, path: readonly string[], value: Json): Edit =>
  putRoute(p.store, p.work, (route) => setIn(route, ['adjust', p.step.name, ...path], value) as JsonObject);

interface FigureProps extends StepSentenceProps {
  readonly name: string;
  readonly label: string;
  readonly value: number;
}

const Figure = (p: FigureProps) => (
  <NumberField
    label={`${p.label}, ${p.step.name}`}
    value={p.value}
    put={(v) =>
      typeof v === 'number' ? adjust(p, [p.name], v) : { ok: false, message: 'A number is wanted here.' }
    }
    testId={`${p.step.name}.${p.name}`}
  />
);

const what = (p: StepSentenceProps): ComponentChildren => {
  const { step, work } = p;
  const { part } = work;
  const length = (name: string, label: string, mm: number) => (
    <Figure {...p} name={name} label={label} value={inUnit(part, mm)} />
  );
  const passes = passWords(p.planned);
  const levels = (s: Extract<JobStep, { stepDown: number; stepover: number }>) => (
    <>
      : {passes} of {length('stepDown', 'Depth of a pass', s.stepDown)} at most, laps{' '}
      {length('stepover', 'Distance between laps', s.stepover)} apart,{' '}
      {length('wallAllowance', 'Left for the finishing lap', s.wallAllowance)} left for the finishing lap,{' '}
      {s.direction}
    </>
  );
  switch (step.kind) {
    case 'square':
      return (
        <>
          {levels(step)}, down to height {length('floor', 'Lowest height', step.floor)}
        </>
      );
    case 'outline':
      return (
        <>
          {levels(step)}, {step.clear === 'all' ? 'clearing all of the bar outside it' : 'in a groove'}, to
          height {length('floor', 'Last height', step.floor)}
          <GentleWords {...p} gentle={step} />
          {(step.clear === 'groove' || step.web > 0) && <WebWords {...p} web={step.web} />}
          {step.bridges && (
            <>
              ; leaves {step.bridges.count} bridges {inUnit(part, step.bridges.length)} long and{' '}
              {inUnit(part, step.bridges.height)} high, to be sawn and filed by hand
            </>
          )}
        </>
      );
    case 'fork':
    case 'slot':
      return (
        <>
          {levels(step)}
          <PeelWords {...p} peelable={step} />
          <WebWords {...p} web={step.web} />
        </>
      );
    case 'pocket':
      return (
        <>
          {levels(step)}
          <PeelWords {...p} peelable={step} />
        </>
      );
    case 'thin':
      return (
        <>
          {levels(step)}
          {step.engagement === null && <StartWords {...p} thin={step} />}
          <GentleWords {...p} gentle={step} />
        </>
      );
    case 'release': {
      const of = p.numbers.get(step.of);
      return (
        <>
          : takes away the web of step {of ?? '?'}, {passes} of{' '}
          {length('stepDown', 'Depth of a pass', step.stepDown)} at most, at{' '}
          <Figure {...p} name="feedShare" label="Share of the feed" value={step.feedShare} /> of the feed
        </>
      );
    }
    case 'spot':
      return <>: {listed(step.holes)}</>;
    case 'drill':
      return (
        <>
          : {listed(step.holes)}, in pecks of {length('peck', 'Peck', step.peck)}
        </>
      );
    case 'ream':
      return <>: {listed(step.holes)}</>;
    case 'tap':
      return <>: {listed(step.holes)}, by hand: the spindle stops and waits</>;
  }
};

/** The side that the strokes of thinning start from. */
const StartWords = (p: StepSentenceProps & { readonly thin: ThinStep }) => (
  <>
    ; one way only, starting at the{' '}
    <select
      class="choice"
      aria-label={`Side that ${p.thin.name} starts from`}
      value={p.thin.startFrom}
      onChange={(e) => adjust(p, ['startFrom'], e.currentTarget.value)}
    >
      {['left', 'right'].map((side) => (
        <option key={side} value={side} selected={side === p.thin.startFrom}>
          {side}
        </option>
      ))}
    </select>
  </>
);

/** Whether an outline or a land is cleared front by front, and how deep that may bury the cutter. */
const GentleWords = (p: StepSentenceProps & { readonly gentle: OutlineStep | ThinStep }) =>
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
    </>
  );

/** Angle that peeling is begun with, degrees: a slot's 180 buries the whole half, 60 is half a radius of stepover. */
const USUAL_ENGAGEMENT = 60;

/** Whether an opening is peeled, how deep that may bury the cutter, and with which cutter it could be. */
const PeelWords = (p: StepSentenceProps & { readonly peelable: PeelableStep }) => {
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

const WebWords = (p: StepSentenceProps & { readonly web: number }) => {
  const released = [...p.work.route.setups.flatMap((s) => s.steps)].find(
    (s) => s.kind === 'release' && s.of === p.step.name,
  );
  const number = released ? p.numbers.get(released.name) : undefined;
  return (
    <>
      ; leaves a web of <Figure {...p} name="web" label="Support web" value={inUnit(p.work.part, p.web)} />
      {p.web > 0 && (number ? `, released in step ${number}` : ', which nothing releases')}
    </>
  );
};

const passWords = (planned: PlannedStep | null): string => {
  if (!planned) return 'passes';
  const rough = planned.passes.length;
  return rough === 1 ? '1 pass' : `${rough} passes`;
};

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? 'no hole') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

const CutterChoice = (p: StepSentenceProps) => {
  const { step, work } = p;
  const now = work.profile.cutters.find((c) => c.name === step.cutter);
  const kinds: readonly Cutter['kind'][] = now ? [now.kind] : ['endmill'];
  const fitting = work.profile.cutters.filter((c) => kinds.includes(c.kind));
  return (
    <select
      class="choice"
      aria-label={`Cutter of ${step.name}`}
      value={step.cutter}
      onChange={(e) => adjust(p, ['cutter'], e.currentTarget.value)}
    >
      {!now && <option value={step.cutter}>{step.cutter}</option>}
      {fitting.map((c) => (
        <option key={c.name} value={c.name} selected={c.name === step.cutter}>
          {c.name}
        </option>
      ))}
    </select>
  );
};

const Rates = (p: StepSentenceProps) => {
  const { planned, step, work } = p;
  if (!planned || step.kind === 'tap') return null;
  const k = work.part.unit === 'mm' ? 1 : MM_PER_INCH;
  return (
    <span class="rates">
      About{' '}
      <Figure {...p} name="speed" label="Turns a minute" value={Math.round(step.speed ?? planned.speed)} />{' '}
      turns a minute and{' '}
      <Figure
        {...p}
        name="feed"
        label="Feed"
        value={Number(((step.feed ?? planned.feed) / k).toFixed(k === 1 ? 0 : 2))}
      />{' '}
      {k === 1 ? 'mm' : 'in'} a minute.
    </span>
  );
};
