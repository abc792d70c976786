import type { Json } from '../../sketch/draft/json.ts';
import type { Part } from '../../sketch/part/part.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import type { Edit } from '../../sketch/view/store.ts';
import { jutsOut } from '../passes/juts-out.ts';
import type { PlannedSetup } from '../passes/pass.ts';
import type { Packing, Setup, ViceHold } from '../route/route.ts';
import { inUnit } from './work.ts';

interface PackingProps {
  readonly part: Part;
  readonly setup: Setup;
  readonly hold: ViceHold;
  /** The setup as it is planned; nothing where it cannot be. */
  readonly planned: PlannedSetup | undefined;
  readonly put: (path: readonly string[], value: Json | undefined) => Edit;
}

/** Packing as the part file says it, lengths in its unit. */
const documentOf = (part: Part, piece: Packing): { readonly [key: string]: Json } =>
  piece.kind === 'fork'
    ? { kind: 'fork', fork: piece.fork }
    : { kind: 'block', from: inUnit(part, piece.from), to: inUnit(part, piece.to) };

/** What is packed into forks and under what juts out: put in, moved and taken away. */
export const PackingSentences = ({ part, setup, hold, planned, put }: PackingProps) => {
  const pieces = hold.packing ?? [];
  const { number } = setup;
  const write = (next: readonly { readonly [key: string]: Json }[]): Edit =>
    put(['packing'], next.length === 0 ? undefined : next.map((p) => ({ ...p })));
  const now = pieces.map((p) => documentOf(part, p));
  const without = (i: number) => now.filter((_, j) => j !== i);
  /** Whole millimetres, or tenths of an inch. */
  const whole = (mm: number): number =>
    part.unit === 'mm' ? Math.round(mm) : Math.round(10 * inUnit(part, mm)) / 10;
  const out = planned ? jutsOut(planned) : null;
  const under = out && { from: whole(out.from), to: whole(out.to) };
  return (
    <>
      {part.forks.length > 0 && (
        <ul class="screw-holes">
          {part.forks.map((fork) => {
            const at = pieces.findIndex((p) => p.kind === 'fork' && p.fork === fork.name);
            return (
              <li key={fork.name}>
                <label>
                  <input
                    type="checkbox"
                    checked={at >= 0}
                    aria-label={`A packing piece in ${fork.name}, setup ${number}`}
                    onChange={() =>
                      write(at >= 0 ? without(at) : [...now, { kind: 'fork', fork: fork.name }])
                    }
                  />{' '}
                  a packing piece in {fork.name}
                </label>
              </li>
            );
          })}
        </ul>
      )}
      {pieces.map((piece, i) =>
        piece.kind === 'fork' ? null : (
          // The order is all that tells two alike apart.
          <p class="sentence" key={`${i} ${pieces.length}`}>
            A sacrificial block under the work from X{' '}
            {(['from', 'to'] as const).map((end) => (
              <span key={end}>
                <NumberField
                  label={`Block ${end}, setup ${number}`}
                  value={inUnit(part, piece[end])}
                  step={part.unit === 'mm' ? 1 : 0.05}
                  put={(v) =>
                    typeof v === 'number'
                      ? write(now.map((p, j) => (j === i ? { ...p, [end]: v } : p)))
                      : { ok: false, message: 'A number is wanted here.' }
                  }
                  testId={`setup${number}.block${i + 1}.${end}`}
                />
                {end === 'from' ? ' to ' : ' '}
              </span>
            ))}
            <button
              type="button"
              class="quiet"
              aria-label={`take away the block, setup ${number}`}
              onClick={() => write(without(i))}
            >
              take away
            </button>
          </p>
        ),
      )}
      {under && (
        <p>
          <button
            type="button"
            class="quiet"
            aria-label={`put a block under what juts out, setup ${number}`}
            onClick={() => write([...now, { kind: 'block', ...under }])}
          >
            put a block under what juts out
          </button>
        </p>
      )}
      {pieces.length > 0 && (
        <p class="remark">
          Packing presses and never pulls: a block carries what drills push down and nothing that an endmill
          lifts; a piece in a fork holds it open against jaws and cutter. Both may be cut into.
        </p>
      )}
    </>
  );
};
