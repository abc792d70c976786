import { figure } from '../../sketch/canvas/dimensions.ts';
import type { Part } from '../../sketch/part/part.ts';
import { regionBox } from '../../sketch/shape/region.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { feetOf } from '../route/plate.ts';
import type { PlateHold, Setup, ViceHold } from '../route/route.ts';

interface EndViewProps {
  readonly part: Part;
  readonly profile: MachineProfile;
  readonly setup: Setup;
}

const WIDTH = 360;
const HEIGHT = 190;

/** What holds the bar, from its end and to scale: vice or plate. */
export const EndView = ({ part, profile, setup }: EndViewProps) => {
  const { hold, number } = setup;
  return hold.kind === 'vice' ? (
    <ViceFromEnd part={part} profile={profile} hold={hold} number={number} />
  ) : (
    <PlateFromEnd part={part} hold={hold} number={number} />
  );
};

interface ViceProps extends Omit<EndViewProps, 'setup'> {
  readonly hold: ViceHold;
  readonly number: number;
}

/** Bed, jaws, parallels and the bar between them. */
const ViceFromEnd = ({ part, profile, hold, number }: ViceProps) => {
  const { bar } = part;
  const { grip, parallels } = hold;
  const lift = parallels?.height ?? 0;
  const jawTop = lift + grip;
  const jaw = 16;
  const low = -6;
  const high = Math.max(jawTop, lift + bar.thickness) + 4;
  const half = bar.width / 2;
  const spread = 2 * (half + jaw) + 8;
  const k = Math.min((WIDTH - 120) / spread, (HEIGHT - 20) / (high - low));
  const middle = WIDTH / 2 - 20;
  const x = (y: number): number => middle + y * k;
  const y = (z: number): number => HEIGHT - 10 - (z - low) * k;
  const block = (y0: number, z0: number, w: number, h: number, cls: string) => (
    <rect class={cls} x={x(y0)} y={y(z0 + h)} width={w * k} height={Math.max(0, h * k)} />
  );
  const say = (mm: number): string => figure(mm, part.unit);
  const right = x(half + jaw) + 10;
  // The two figures keep a line's height between them however thin the grip.
  const between = (y(lift + bar.thickness) + y(jawTop)) / 2 + 5;
  const below = (y(jawTop) + y(lift)) / 2 + 5;
  const apart = Math.max(0, 20 - (below - between)) / 2;
  const labels = { out: between - apart, held: below + apart };
  const name = `Setup ${number} from the end: ${say(grip)} of ${say(bar.thickness)} in the jaws${
    parallels ? `, on parallels ${say(parallels.height)} high` : ''
  }.`;
  return (
    <svg class="end-view" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} width="100%" role="img" aria-label={name}>
      {block(-half - jaw - 2, low, spread - 4, -low, 'vice')}
      {block(-half - jaw, 0, jaw, jawTop, 'vice')}
      {block(half, 0, jaw, jawTop, 'vice')}
      {parallels &&
        [-1, 1].map((side) => (
          <g key={side}>
            {block(
              side * parallels.offset - parallels.thickness / 2,
              0,
              parallels.thickness,
              lift,
              'parallel',
            )}
          </g>
        ))}
      {block(-half, lift, bar.width, bar.thickness, 'work-end')}
      {[lift, jawTop, lift + bar.thickness].map((z) => (
        <line key={z} class="thin" x1={x(half + (z === jawTop ? 1 : 0))} x2={right + 8} y1={y(z)} y2={y(z)} />
      ))}
      <line class="thin" x1={right} x2={right} y1={y(lift)} y2={y(lift + bar.thickness)} />
      <text x={right + 14} y={labels.out}>
        {say(bar.thickness - grip)} out
      </text>
      <text x={right + 14} y={labels.held}>
        {say(grip)} held
      </text>
      {profile.vice.jawHeight < jawTop && (
        <text x={middle} y={16} text-anchor="middle" class="look">
          Jaws of {say(profile.vice.jawHeight)} do not reach so high
        </text>
      )}
    </svg>
  );
};

/** The plate, the bar on it, and what stands on the bar. */
const PlateFromEnd = (p: { readonly part: Part; readonly hold: PlateHold; readonly number: number }) => {
  const { bar } = p.part;
  const feet = feetOf(p.hold, bar);
  const over = feet.reduce((most, foot) => Math.max(most, foot.height), 0);
  const beside = 12;
  const thick = 6;
  const spread = bar.width + 2 * beside;
  const tallest = thick + bar.thickness + over;
  const k = Math.min((WIDTH - 130) / spread, (HEIGHT - 24) / tallest);
  const height = Math.max(70, tallest * k + 24);
  const left = 12;
  const x = (y: number): number => left + (y - bar.corner.y + beside) * k;
  const y = (z: number): number => height - 10 - (z + thick) * k;
  const say = (mm: number): string => figure(mm, p.part.unit);
  const block = (low: number, high: number, z0: number, z1: number, cls: string) => (
    <rect class={cls} x={x(low)} y={y(z1)} width={(high - low) * k} height={(z1 - z0) * k} />
  );
  const far = bar.corner.y + bar.width;
  const right = x(far + beside) + 10;
  const tall = feet.length > 0 ? `, ${say(over)} above it at most` : '';
  const name = `Setup ${p.number} from the end: ${say(bar.thickness)} on a plate${tall}.`;
  return (
    <svg class="end-view" viewBox={`0 0 ${WIDTH} ${height}`} width="100%" role="img" aria-label={name}>
      {block(bar.corner.y - beside, far + beside, -thick, 0, 'vice')}
      {block(bar.corner.y, far, 0, bar.thickness, 'work-end')}
      {feet.map((foot) => {
        const box = regionBox(foot.region);
        if (box === null) return null;
        const low = Math.max(box.min.y, bar.corner.y - beside);
        const high = Math.min(box.max.y, far + beside);
        return (
          <g key={`${foot.at.x},${foot.at.y}`}>
            {block(low, high, bar.thickness, bar.thickness + foot.height, 'vice')}
          </g>
        );
      })}
      <line class="thin" x1={x(far) + 2} x2={right + 8} y1={y(bar.thickness)} y2={y(bar.thickness)} />
      <line class="thin" x1={x(far) + 2} x2={right + 8} y1={y(0)} y2={y(0)} />
      <text x={right + 14} y={(y(bar.thickness) + y(0)) / 2 + 5}>
        {say(bar.thickness)} out
      </text>
      {feet.length > 0 && (
        <text x={right + 14} y={(y(bar.thickness) + y(bar.thickness + over)) / 2 - 2}>
          {say(over)} over
        </text>
      )}
    </svg>
  );
};
