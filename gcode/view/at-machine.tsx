import { computed, signal } from '@preact/signals';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Unit } from '../../sketch/part/part.ts';
import { plain } from '../../sketch/part/units.ts';
import { saveText } from '../../sketch/view/files.ts';
import { titleOf } from '../../toolpath/view/step-sentence.tsx';
import type { Still } from '../../toolpath/view/work.ts';
import type { PlannedPart } from '../chain.ts';
import { CAUTIONS } from '../program/header.ts';
import { slug } from '../program/name.ts';
import { csvText, words } from '../table/csv.ts';
import { turningWords } from '../table/dials.ts';
import { figure, unitSign } from '../table/figures.ts';
import { tableOf } from '../table/table.ts';
import type { VisitRow } from '../table/visits.ts';
import { MeasuredPanel } from './measured-panel.tsx';
import { changedAxes, type Stop, stopsOf } from './stops.ts';
import { keepTicks, readTicks, signOf, type Ticks, ticksLost } from './ticks.ts';
import { keepAwake } from './wake.ts';

/** The setup one stands at the machine with; null while one sits at the desk. */
export const machineSetup = signal<number | null>(null);
/** The stop under the hand, for the drawing. */
export const machineStop = signal<Stop | null>(null);
export const isAtMachine = computed(() => machineSetup.value !== null);

interface AtMachineProps {
  readonly work: PlannedPart;
  readonly stills: readonly Still[];
  readonly onShow: (still: number) => void;
}

const AXES = ['x', 'y', 'z'] as const;
const BACK_KEYS = ['ArrowLeft', 'ArrowUp', 'PageUp', 'Backspace'];
const NEXT_KEYS = ['ArrowRight', 'ArrowDown', 'PageDown', 'Enter', ' '];

/**
 * Beside the machine: one stop at a time in figures as large as the screen allows, back and next by large buttons, keys
 * or a pedal that sends page keys. What is done is ticked with its time.
 */
export const AtMachine = ({ work, stills, onShow }: AtMachineProps) => {
  const number = machineSetup.value;
  const own = stills.filter((s) => s.setup.setup.number === number);
  const { unit } = work.part;
  const table = useMemo(() => tableOf(work.plan, unit, work.profile), [work]);
  const setup = table.setups.find((s) => s.number === number);
  const stops = setup ? stopsOf(own, setup) : [];
  const doubts = table.findings.filter((f) => f.severity !== 'note');
  const sign = signOf(`${work.part.name}|${number}|${stops.map((s) => JSON.stringify(s.row)).join()}`);
  const [ticks, setTicks] = useState<Ticks>(() => readTicks(sign));
  const firstOpen = stops.findIndex((s) => !(s.key in ticks));
  const [at, setAt] = useState(firstOpen < 0 ? stops.length - 1 : firstOpen);
  const stop = stops[Math.min(at, stops.length - 1)] ?? null;
  const place = useRef<HTMLElement>(null);

  useEffect(keepAwake, []);
  useEffect(() => place.current?.focus(), []);
  useEffect(() => {
    machineStop.value = stop;
    if (stop) onShow(stop.still.index);
    return () => {
      machineStop.value = null;
    };
  }, [at, sign]);

  const mark = (next: Ticks): void => {
    setTicks(next);
    keepTicks(sign, next);
  };
  const done = (): void => {
    if (!stop) return;
    if (!(stop.key in ticks)) mark({ ...ticks, [stop.key]: new Date().toISOString() });
    if (at < stops.length - 1) setAt(at + 1);
  };
  const back = (): void => setAt(Math.max(0, at - 1));
  const count = Object.keys(ticks).length;

  if (!stop) {
    return (
      <section class="at-machine" aria-label="At the machine">
        <p>This setup has no places to set.</p>
        <Leave />
      </section>
    );
  }
  return (
    <section
      ref={place}
      class="at-machine"
      aria-label={`At the machine, setup ${number}`}
      tabIndex={-1}
      onKeyDown={(e) => {
        if (e.target instanceof HTMLInputElement || (e.target as HTMLElement).closest('summary')) return;
        const onButton = e.target instanceof HTMLButtonElement && (e.key === 'Enter' || e.key === ' ');
        if (onButton) return;
        if (NEXT_KEYS.includes(e.key)) done();
        else if (BACK_KEYS.includes(e.key)) back();
        else if (e.key === 'Escape') machineSetup.value = null;
        else return;
        e.preventDefault();
      }}
    >
      <StopWords stop={stop} unit={unit} count={stops.length} at={at} />
      <Figures stop={stop} unit={unit} />
      <p class="stop-note">{stop.row.note}</p>
      <PassDepths stop={stop} unit={unit} />
      {number !== null && <MeasuredPanel work={work} setup={number} />}
      {doubts.map((f) => (
        <p key={f.message} class="wrong">
          {f.message}
        </p>
      ))}
      {ticksLost.value && <p class="wrong">{ticksLost.value}</p>}
      <div class="machine-keys">
        <button type="button" disabled={at === 0} onClick={back}>
          back
        </button>
        <button type="button" class="next" data-done onClick={done}>
          {stop.key in ticks ? 'next' : 'done ✓'}
        </button>
      </div>
      <div class="machine-foot">
        <progress max={stops.length} value={count} aria-label="Stops done" />
        <span data-stops-done>
          {count} of {stops.length} done
        </span>
        <button
          type="button"
          class="quiet"
          onClick={() =>
            saveText(`${slug(work.part.name)}-setup-${number}-log.csv`, logOf(stops, ticks, unit), 'text/csv')
          }
        >
          save the log
        </button>
        <button
          type="button"
          class="quiet"
          onClick={() => {
            mark({});
            setAt(0);
          }}
        >
          begin again
        </button>
        <Leave />
      </div>
      {at === 0 && (
        <ul class="caution">
          {CAUTIONS.map((c) => (
            <li key={c}>{c}</li>
          ))}
        </ul>
      )}
    </section>
  );
};

const Leave = () => (
  <button type="button" class="quiet" onClick={() => (machineSetup.value = null)}>
    back to the desk
  </button>
);

const KIND = { rough: '', finish: ', finishing', release: ', releasing: light' } as const;

const StopWords = (p: { stop: Stop; unit: Unit; count: number; at: number }) => {
  const { still } = p.stop;
  const { step } = still;
  const hand = step.cutter.kind === 'tap';
  return (
    <header>
      <h2>
        {still.stepNumber}. {titleOf(step.step)}
      </h2>
      <p>
        {p.stop.first && <b>Now take </b>}
        {step.cutter.name}, {hand ? 'by hand' : `${Math.round(step.speed)} turns/min`} · pass{' '}
        {still.passNumber} of {step.passes.length}
        {KIND[still.pass.kind]} · stop {p.at + 1} of {p.count} ·{' '}
        {p.stop.dials ? 'turns + lines from nought' : `figures in ${unitSign(p.unit)}`}
      </p>
    </header>
  );
};

/** X, Y and Z; what stays as it is on the machine stands back. By dials, their turns and lines are the large figures. */
const Figures = ({ stop, unit }: { readonly stop: Stop; readonly unit: Unit }) => {
  const changed = changedAxes(stop);
  return (
    <dl class="machine-figures" aria-live="polite">
      {AXES.map((axis) => {
        const coordinate = figure(stop.row.at[axis], unit).replace('-', '−');
        const dial = stop.dials?.[axis];
        return (
          <div key={axis} class={changed[axis] ? '' : 'stays'} data-axis={axis}>
            <dt>{axis.toUpperCase()}</dt>
            <dd>{dial ? turnsText(dial.total) : coordinate}</dd>
            <dd class="by">
              {dial ? coordinate : changed[axis] && stop.before ? stepText(stop, axis, unit) : ''}
            </dd>
            {dial?.past && dial.pastTotal && (
              <dd class="past">first past it, to {turnsText(dial.pastTotal)}, then on to here</dd>
            )}
            {dial && changed[axis] && <dd class="turning">{turningWords(dial.turning)}</dd>}
            {dial?.against && <dd class="past">against the slack: the figure has it in it</dd>}
          </div>
        );
      })}
    </dl>
  );
};

/** Turns and lines from nought, as they are counted at a handwheel. */
const turnsText = (total: VisitRow['total']): string => {
  const size = `${Math.abs(total.turns)} + ${plain(Math.abs(total.divisions), 1)}`;
  return total.count < 0 ? `−(${size})` : size;
};

const stepText = (stop: Stop, axis: 'x' | 'y' | 'z', unit: Unit): string => {
  const by = stop.row.at[axis] - (stop.before?.[axis] ?? 0);
  return `${by > 0 ? '+' : '−'}${figure(Math.abs(by), unit)}`;
};

/** The depths of a job step's passes, the present one marked, with the web each leaves. */
const PassDepths = ({ stop, unit }: { readonly stop: Stop; readonly unit: Unit }) => {
  const { step, passNumber } = stop.still;
  if (step.passes.length < 2) return null;
  return (
    <ol class="pass-depths" aria-label="Depths of the passes">
      {step.passes.map((pass, i) => (
        <li key={`${i}:${pass.z}`} aria-current={i + 1 === passNumber ? 'step' : undefined}>
          {figure(pass.z, unit)}
          {pass.web !== null && pass.web > 1e-6 && <small> web {figure(pass.web, unit)}</small>}
        </li>
      ))}
    </ol>
  );
};

/** The finished list: when each stop was done. */
const logOf = (stops: readonly Stop[], ticks: Ticks, unit: Unit): string =>
  csvText([
    ['time', 'job step', 'pass', ...AXES.map((axis) => `${axis.toUpperCase()} (${unitSign(unit)})`)],
    ...stops.map(({ key, row }) => [
      ticks[key] ?? '',
      words(row.step),
      String(row.pass),
      ...AXES.map((axis) => figure(row.at[axis], unit)),
    ]),
  ]);
