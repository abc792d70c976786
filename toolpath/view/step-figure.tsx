import type { Json, JsonObject } from '../../sketch/draft/json.ts';
import { setIn } from '../../sketch/draft/json.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit, Store } from '../../sketch/view/store.ts';
import type { PlannedStep } from '../passes/pass.ts';
import type { JobStep } from '../route/route.ts';
import { putRoute, type Work } from './work.ts';

export interface StepSentenceProps {
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

/** Lays a term over a job step in the part's own route. */
export const adjust = (p: StepSentenceProps, path: readonly string[], value: Json): Edit =>
  putRoute(p.store, p.work, (route) => setIn(route, ['adjust', p.step.name, ...path], value) as JsonObject);

interface FigureProps extends StepSentenceProps {
  readonly name: string;
  readonly label: string;
  readonly value: number;
}

/** A figure of a job step, to be changed where it stands. */
export const Figure = (p: FigureProps) => (
  <NumberField
    label={`${p.label}, ${p.step.name}`}
    value={p.value}
    put={(v) =>
      typeof v === 'number' ? adjust(p, [p.name], v) : { ok: false, message: 'A number is wanted here.' }
    }
    testId={`${p.step.name}.${p.name}`}
  />
);
