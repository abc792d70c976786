import { useState } from 'preact/hooks';
import type { Unit } from '../../sketch/part/part.ts';
import { lengthText, mmPer } from '../../sketch/part/units.ts';
import type { PlannedPart } from '../chain.ts';
import { figure, unitSign } from '../table/figures.ts';
import { lengthJobOf, thicknessJobsOf } from '../table/guided.ts';
import { afterRoughing, firstEnd, type Measured, type MeasuredCuts, secondEnd } from '../table/measured.ts';

/** What is measured on the way in a setup: written in, it gives the numbers that follow. */
export const MeasuredPanel = ({ work, setup }: { readonly work: PlannedPart; readonly setup: number }) => {
  const { part, plan } = work;
  const { unit } = part;
  const length = lengthJobOf(part, plan);
  const thinnings = thicknessJobsOf(part, plan).filter((t) => t.setup === setup);
  const squaring = length?.setup === setup ? length : null;
  if (!squaring && thinnings.length === 0) return null;
  const first = squaring && firstEnd(squaring.job, unit);
  return (
    <details class="measured">
      <summary>Measured on the way</summary>
      {squaring && (
        <section>
          <h3>Squared to {lengthText(squaring.job.length, unit)}</h3>
          {first?.ok && (
            <p>
              Take about {lengthText(first.result.take, unit)} off the first end: it must still measure{' '}
              {lengthText(first.result.keep, unit)} or more. Turn it end for end, clean the other end with a
              light cut, leave the cutter where it stands, stop the spindle and measure.
            </p>
          )}
          <Measure
            label="Length as measured"
            axis="X"
            unit={unit}
            make={(mm) => secondEnd(squaring.job, mm, unit)}
          />
        </section>
      )}
      {thinnings.map((t) => (
        <section key={t.step}>
          <h3>
            {t.step}: thinned to {lengthText(t.job.wanted, unit)}
          </h3>
          <p>
            After pass {t.after} leave the cutter on the floor it cut, stop the spindle and measure; about{' '}
            {lengthText(t.job.planned, unit)} is to be expected.
          </p>
          <Measure
            label={`Thickness after roughing, ${t.step}`}
            axis="Z"
            unit={unit}
            make={(mm) => afterRoughing(t.job, mm, unit)}
          />
        </section>
      ))}
    </details>
  );
};

interface MeasureProps {
  readonly label: string;
  readonly axis: 'X' | 'Z';
  readonly unit: Unit;
  readonly make: (mm: number) => Measured<MeasuredCuts>;
}

/** A measured figure, and the cuts that come of it; one that cannot be is named, and no number is given. */
const Measure = ({ label, axis, unit, make }: MeasureProps) => {
  const [text, setText] = useState('');
  const typed = Number(text.trim().replace(',', '.'));
  const made = text.trim() === '' ? null : Number.isFinite(typed) ? make(typed * mmPer(unit)) : null;
  return (
    <>
      <label class="measured-figure">
        {label}, {unitSign(unit)}{' '}
        <input
          type="text"
          inputMode="decimal"
          autocomplete="off"
          size={8}
          value={text}
          data-measured={axis}
          onInput={(e) => setText(e.currentTarget.value)}
        />
      </label>
      {text.trim() !== '' && !Number.isFinite(typed) && (
        <p class="wrong" role="alert">
          “{text}” is not a number.
        </p>
      )}
      {made?.findings.map((f) => (
        <p key={f.message} class={f.severity === 'note' ? 'aside' : 'wrong'} role="alert">
          {f.message}
        </p>
      ))}
      {made?.ok && (
        <ol class="measured-cuts" data-cuts={axis}>
          <li>
            Set {axis} to <b>{figure(made.result.set, unit)}</b> where the cutter stands.
          </li>
          {made.result.cuts.map((cut) => (
            <li key={cut.at}>
              {axis} <b>{figure(cut.at, unit)}</b> takes {figure(cut.takes, unit)}, leaves{' '}
              {figure(cut.remains, unit)}
            </li>
          ))}
          {made.result.cuts.length === 0 && <li>Nothing is left to cut.</li>}
        </ol>
      )}
    </>
  );
};
