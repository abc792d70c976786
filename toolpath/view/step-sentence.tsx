import type { ComponentChildren } from 'preact';
import type { JsonObject } from '../../sketch/draft/json.ts';
import { getIn, setIn } from '../../sketch/draft/json.ts';
import { MM_PER_INCH } from '../../sketch/part/units.ts';
import type { Edit } from '../../sketch/view/store.ts';
import type { Cutter } from '../machine/cutter.ts';
import type { PlannedStep } from '../passes/pass.ts';
import type { JobStep, ThinStep } from '../route/route.ts';
import { GentleWords, PeelWords } from './peel-words.tsx';
import { adjust, Figure, type StepSentenceProps } from './step-figure.tsx';
import { inUnit, putRoute } from './work.ts';

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
