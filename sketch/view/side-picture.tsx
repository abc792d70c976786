import { figure } from '../canvas/dimension.ts';
import type { Unit } from '../part/part.ts';
import type { SideHeight, SideMarks } from '../part/side-marks.ts';
import type { SideLine, SideView } from '../part/side-view.ts';

interface SidePictureProps {
  readonly view: SideView;
  readonly marks: SideMarks;
  readonly unit: Unit;
  /** Pixels per mm, and the pixel at which `s` is nothing. */
  readonly scale: number;
  readonly origin: number;
  /** Heights between which the bar lies, mm. */
  readonly low: number;
  readonly high: number;
  /** Heights run downward on the page, as they do under a plan in first angle. */
  readonly turned: boolean;
  readonly width: number;
  readonly height: number;
  readonly label: string;
}

/** A side view inked as ISO 128 has it: edges heavy, hidden ones in short dashes, axes in chains, heights thin. */
export const SidePicture = (p: SidePictureProps) => {
  const foot = (p.height + (p.high - p.low) * p.scale) / 2;
  const x = (s: number): number => p.origin + s * p.scale;
  const y = (z: number): number =>
    p.turned ? p.height - foot + (z - p.low) * p.scale : foot - (z - p.low) * p.scale;
  const drawn = (lines: readonly SideLine[], past = 0): string =>
    lines
      .map((l) => {
        const [a, b] = [y(l.from.z), y(l.to.z)];
        const way = Math.sign(b - a) * past;
        return `M${px(x(l.from.s))} ${px(a - way)}L${px(x(l.to.s))} ${px(b + way)}`;
      })
      .join('');
  return (
    <svg class="side-picture" width={Math.max(0, p.width)} height={p.height} role="img" aria-label={p.label}>
      {p.view.covered.map((c) => (
        <rect
          key={`${c.from}:${c.bottom}`}
          class="side-metal"
          x={x(c.from)}
          width={(c.to - c.from) * p.scale}
          y={Math.min(y(c.bottom), y(c.top))}
          height={(c.top - c.bottom) * p.scale}
        />
      ))}
      <path class="side-hidden" d={drawn(p.view.hidden)} />
      <path class="side-thread" d={drawn(p.marks.threads)} />
      <path class="side-centre" d={drawn(p.marks.centres, 6)} />
      <path class="side-visible" d={drawn(p.view.visible)} />
      {placed(p.marks.heights).map(({ height, at }) => (
        <Height key={`${height.bottom}:${height.top}`} {...{ height, at, x, y }} unit={p.unit} />
      ))}
    </svg>
  );
};

/** Where a height's line stands: so many places outside an end of the view, or within it. */
type Stand =
  | { readonly kind: 'left' | 'right'; readonly tier: number; readonly s: number }
  | { readonly kind: 'within'; readonly s: number };

const SAME = 1e-3;

/** Heights at an end stand outside it, short ones nearest; one in the middle of the part stands where it is. */
const placed = (heights: readonly SideHeight[]): readonly { height: SideHeight; at: Stand }[] => {
  const whole = heights[0];
  if (!whole) return [];
  const count = { left: 0, right: 0 };
  const rest = heights.slice(1).map((height) => {
    const kind =
      Math.abs(height.to - whole.to) < SAME
        ? 'right'
        : Math.abs(height.from - whole.from) < SAME
          ? 'left'
          : 'within';
    return kind === 'within'
      ? { height, at: { kind, s: (height.from + height.to) / 2 } as const }
      : {
          height,
          at: { kind, tier: count[kind]++, s: kind === 'right' ? whole.to : whole.from } as const,
        };
  });
  const side = count.left > 0 && count.right === 0 ? 'right' : 'left';
  return [
    { height: whole, at: { kind: side, tier: count[side], s: side === 'left' ? whole.from : whole.to } },
    ...rest,
  ];
};

interface HeightProps {
  readonly height: SideHeight;
  readonly at: Stand;
  readonly unit: Unit;
  readonly x: (s: number) => number;
  readonly y: (z: number) => number;
}

const GAP = 16;
const TIER = 26;

/** One height: extension lines, a line with heads, its figure along it where there is room and beside it where not. */
const Height = ({ height, at, unit, x, y }: HeightProps) => {
  const text = figure(height.top - height.bottom, unit);
  const [a, b] = [y(height.top), y(height.bottom)].sort((p, q) => p - q) as [number, number];
  const out = at.kind === 'left' ? -1 : 1;
  const edge = x(at.s);
  const line = at.kind === 'within' ? edge : edge + out * (GAP + at.tier * TIER);
  const wide = text.length * 8;
  const along = b - a > wide + 26;
  const [top, bottom] = b - a > 26 ? [a, b] : [a - 14, b + 14];
  const heads = b - a > 26 ? 1 : -1;
  const head = (tip: number, way: number): string => `M${px(line)} ${px(tip)}l-1.7 ${px(9 * way)}h3.4Z`;
  const middle = (a + b) / 2;
  const extensions =
    at.kind === 'within'
      ? ''
      : `M${px(edge + out * 3)} ${px(a)}H${px(line + out * 5)}M${px(edge + out * 3)} ${px(b)}H${px(line + out * 5)}`;
  return (
    <g class="side-height" data-height={text}>
      <path d={`${extensions}M${px(line)} ${px(top)}V${px(bottom)}`} />
      <path class="head" d={head(a, heads) + head(b, -heads)} />
      {along ? (
        <text
          x={line}
          y={middle}
          transform={`rotate(-90 ${px(line)} ${px(middle)})`}
          text-anchor="middle"
          dominant-baseline="central"
        >
          {text}
        </text>
      ) : (
        <text
          x={line + (at.kind === 'left' ? -7 : 7)}
          y={middle}
          text-anchor={at.kind === 'left' ? 'end' : 'start'}
          dominant-baseline="central"
        >
          {text}
        </text>
      )}
    </g>
  );
};

const px = (v: number): string => v.toFixed(1);
