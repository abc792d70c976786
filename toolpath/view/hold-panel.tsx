import type { JSX } from 'preact';
import { figure } from '../../sketch/canvas/dimensions.ts';
import type { Json, JsonObject } from '../../sketch/draft/json.ts';
import { getIn, setIn } from '../../sketch/draft/json.ts';
import type { Finding, Part } from '../../sketch/part/part.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit, Store } from '../../sketch/view/store.ts';
import type { Setup, ViceHold } from '../route/route.ts';
import { EndView } from './end-view.tsx';
import { FindingNotes } from './finding-notes.tsx';
import { HoldChoice } from './hold-choice.tsx';
import { MachineSection } from './machine-section.tsx';
import type { MachineFile } from './machine-shop.ts';
import { PackingSentences } from './packing-sentences.tsx';
import { PlateSentences } from './plate-sentences.tsx';
import { ViceForce } from './vice-force.tsx';
import { inUnit, putRoute, type Work } from './work.ts';

const DATUMS = {
  'left-near': 'left near corner',
  'left-far': 'left far corner',
  'right-near': 'right near corner',
  'right-far': 'right far corner',
  centre: 'middle of the bar',
} as const;

interface HoldPanelProps {
  readonly store: Store;
  readonly work: Work;
  readonly shown: number;
  readonly onShow: (setup: number) => void;
  /** Machine files to begin from. */
  readonly machines: readonly MachineFile[];
}

/** The Hold stage: each setup with its datum and its vice or plate, in figures that are changed in place, and drawn from the end. */
export const HoldPanel = ({ store, work, shown, onShow, machines }: HoldPanelProps) => (
  <div>
    <MachineSection machines={machines} material={work.part.bar.material} />
    {work.route.setups.some((setup) => setup.hold.kind === 'vice') && <ViceForce />}
    {work.route.setups.map((setup) => (
      <section
        key={setup.number}
        class={setup.number === shown ? 'setup picked' : 'setup'}
        data-setup={setup.number}
        onFocusIn={() => onShow(setup.number)}
      >
        <h2>
          <button
            type="button"
            class="plain-heading"
            aria-pressed={setup.number === shown}
            onClick={() => onShow(setup.number)}
          >
            Setup {setup.number}: {setup.face === 'front' ? 'front up' : 'turned over, back up'}
          </button>
        </h2>
        <SetupSentences store={store} work={work} setup={setup} />
        <EndView part={work.part} profile={work.profile} setup={setup} />
        <FindingNotes findings={findingsOf(work, setup.number)} />
      </section>
    ))}
    <p class="aside">
      What is proposed here is common practice; how well it holds is estimated pass by pass under Prove. Try
      by hand that nothing moves before the spindle turns.
    </p>
  </div>
);

const findingsOf = (work: Work, setup: number): readonly Finding[] =>
  work.findings.filter((f) => f.setup === setup && f.feature === undefined);

const SetupSentences = ({ store, work, setup }: { store: Store; work: Work; setup: Setup }) => {
  const { part } = work;
  const { hold } = setup;
  const key = String(setup.number);
  const put = (path: readonly string[], value: Json | undefined): Edit =>
    putRoute(store, work, (route) => setIn(route, ['setups', key, ...path], value) as JsonObject);
  const blank = (label: string, mm: number, take: (v: number) => Edit, testId: string) => (
    <NumberField
      key={testId}
      label={`${label}, setup ${setup.number}`}
      value={inUnit(part, mm)}
      put={(v) => (typeof v === 'number' ? take(v) : { ok: false, message: 'A number is wanted here.' })}
      step={part.unit === 'mm' ? 0.1 : 0.005}
      testId={`setup${setup.number}.${testId}`}
    />
  );
  const adjusted = getIn(store.opened.value?.document ?? {}, ['route', 'setups', key]) !== undefined;
  return (
    <>
      <p class="sentence">
        Nought is at the{' '}
        <select
          class="choice"
          aria-label={`Datum of setup ${setup.number}`}
          value={setup.datum}
          onChange={(e) => put(['datum'], e.currentTarget.value)}
        >
          {Object.entries(DATUMS).map(([value, words]) => (
            <option key={value} value={value} selected={value === setup.datum}>
              {words}
            </option>
          ))}
        </select>
        , Z nought on top of the work; work offset{' '}
        <select
          class="choice"
          aria-label={`Work offset of setup ${setup.number}`}
          value={setup.workOffset}
          onChange={(e) => put(['workOffset'], e.currentTarget.value)}
        >
          {['G54', 'G55', 'G56', 'G57', 'G58', 'G59'].map((g) => (
            <option key={g} value={g} selected={g === setup.workOffset}>
              {g}
            </option>
          ))}
        </select>
        .
      </p>
      <HoldChoice part={part} setup={setup} put={put} />
      {hold.kind === 'vice' && <ViceSentences part={part} hold={hold} blank={blank} put={put} />}
      {hold.kind === 'vice' && (
        <PackingSentences
          part={part}
          setup={setup}
          hold={hold}
          planned={work.plan.setups.find((s) => s.setup.number === setup.number)}
          put={put}
        />
      )}
      {hold.kind === 'plate' && <PlateSentences part={part} setup={setup} hold={hold} put={put} />}
      {adjusted && (
        <button
          type="button"
          class="quiet"
          onClick={() =>
            putRoute(store, work, (route) => setIn(route, ['setups', key], undefined) as JsonObject)
          }
        >
          put back as proposed
        </button>
      )}
    </>
  );
};

interface ViceSentencesProps {
  readonly part: Part;
  readonly hold: ViceHold;
  readonly blank: (label: string, mm: number, take: (v: number) => Edit, testId: string) => JSX.Element;
  readonly put: (path: readonly string[], value: Json) => Edit;
}

const ViceSentences = ({ part, hold, blank, put }: ViceSentencesProps) => {
  /** A group of figures that the file keeps together is written whole. */
  const putInGroup = (group: 'jaws' | 'parallels', name: string, value: Json): Edit => {
    const now = hold[group] ?? {};
    const whole = Object.fromEntries(Object.entries(now).map(([k, v]) => [k, inUnit(part, v as number)]));
    return put([group], { ...whole, [name]: value });
  };
  const unit = part.unit === 'mm' ? 'mm' : 'in';
  return (
    <>
      <p class="sentence">
        The vice grips {blank('Grip', hold.grip, (v) => put(['grip'], v), 'grip')} of the bar's{' '}
        {figure(part.bar.thickness, part.unit)} {unit}; jaws from X{' '}
        {blank('Jaws from', hold.jaws.from, (v) => putInGroup('jaws', 'from', v), 'from')} to{' '}
        {blank('Jaws to', hold.jaws.to, (v) => putInGroup('jaws', 'to', v), 'to')} on the drawing. They bear
        on {hold.gripped}.
      </p>
      <p class="sentence">
        {hold.parallels ? (
          <>
            On two parallels{' '}
            {blank(
              'Parallels’ height',
              hold.parallels.height,
              (v) => putInGroup('parallels', 'height', v),
              'height',
            )}{' '}
            high and{' '}
            {blank(
              'Parallels’ thickness',
              hold.parallels.thickness,
              (v) => putInGroup('parallels', 'thickness', v),
              'thickness',
            )}{' '}
            thick, each{' '}
            {blank(
              'Parallels’ offset',
              hold.parallels.offset,
              (v) => putInGroup('parallels', 'offset', v),
              'offset',
            )}{' '}
            from the middle.
          </>
        ) : (
          'Straight on the bed of the vice, without parallels.'
        )}
      </p>
    </>
  );
};
