import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { hueOf, LETTERING } from '../../sketch/canvas/ink.ts';
import type { Unit } from '../../sketch/part/part.ts';
import { aboutText, mmPer, plain, unitSign } from '../../sketch/part/units.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import { BEYOND_BENDING, beyondFigure, type SurvivalLimits } from '../../toolpath/survival/verdict.ts';

interface PlotsProps {
  readonly unit: Unit;
  /** Beyond these a figure is a finding. */
  readonly limits: SurvivalLimits;
  readonly passes: readonly PassSurvival[];
  /** The pass under the slider, by its place in `passes`; -1 for none. */
  readonly shown: number;
  readonly onPick: (pass: number) => void;
}

interface Kind {
  readonly label: string;
  readonly value: (p: PassSurvival) => number | null;
  /** The value in words, beside the name of the chosen pass. */
  readonly say: (value: number) => string;
  /** Beyond this it is a finding; drawn as a line. */
  readonly limit: number | null;
  /** Higher than this is not drawn higher. */
  readonly most: number;
}

/** What is plotted; lengths in the part's unit. */
const kindsOf = ({ unit, limits }: Pick<PlotsProps, 'unit' | 'limits'>): readonly Kind[] => {
  const sign = unitSign(unit);
  const own = (mm: number | null): number | null => mm && mm / mmPer(unit);
  return [
    {
      label: 'Force, N',
      // Across for a cutter, along for a drill.
      value: ({ force }) => Math.max(force.most, force.thrust) || null,
      say: (v) => `about ${plain(v, 0)} N`,
      limit: null,
      most: Number.POSITIVE_INFINITY,
    },
    {
      label: `Moves, ${sign}`,
      value: (p) => own(p.movement),
      say: (v) =>
        v > own(BEYOND_BENDING)!
          ? `gives way, over ${beyondFigure(unit)} ${sign}`
          : `moves ${aboutText(v * mmPer(unit), unit)}`,
      limit: own(limits.movement),
      most: own(BEYOND_BENDING)!,
    },
    {
      label: 'Hold, ×',
      value: (p) => p.hold?.least ?? null,
      say: (v) =>
        `holds ${v > 99 ? 'over 99' : v < 0.95 ? `about ${v.toFixed(2)}` : `about ${v.toFixed(1)}`} times over`,
      limit: limits.hold,
      most: 20,
    },
    {
      label: `Web, ${sign}`,
      value: (p) => own(p.web),
      say: (v) => `web ${plain(v, unit === 'mm' ? 2 : 3)} ${sign}`,
      limit: null,
      most: Number.POSITIVE_INFINITY,
    },
  ];
};

/**
 * Force, movement, hold and web along the program, one under the other over one axis of time. The pass under the slider
 * is marked in all of them and told under them; a press, or a finger drawn along, moves the slider.
 */
export const PassPlots = (p: PlotsProps) => {
  const pass = p.passes[p.shown];
  const kinds = kindsOf(p);
  return (
    <>
      <div class="pass-plots" aria-hidden="true">
        {kinds.map((kind, n) => (
          <Plot key={kind.label} {...p} kind={kind} last={n === kinds.length - 1} />
        ))}
      </div>
      <p class="plot-reading" data-pass={pass?.force.label ?? ''}>
        {pass ? readingOf(pass, kinds) : 'The pass on the slider is not among those estimated.'}
      </p>
    </>
  );
};

const readingOf = (pass: PassSurvival, kinds: readonly Kind[]): string => {
  const said = kinds.flatMap(({ value, say }) => {
    const v = value(pass);
    return v === null ? [] : [say(v)];
  });
  return `${pass.force.label}: ${said.length === 0 ? 'no force worth a figure' : said.join(', ')}${pass.time ? `; ${timeOf(pass.time.from)} to ${timeOf(pass.time.to)} min` : ''}.`;
};

const timeOf = (s: number): string => plain(s / 60, 1);

const HEIGHT = 92;
/** Room for the figures of the time axis under the last plot, pixels. */
const UNDER = 40;
const PAD = 10;
const FONT = `15px ${LETTERING}`;
/** Steps of the axis of time, s: round minutes, or parts of one where all takes little. */
const STEPS = [6, 12, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200];

const Plot = ({ passes, shown, onPick, kind, last }: PlotsProps & { kind: Kind; last: boolean }) => {
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const now = useRef({ passes, shown, kind });
  now.current = { passes, shown, kind };
  const pick = useRef(onPick);
  pick.current = onPick;
  const height = last ? HEIGHT + UNDER : HEIGHT;

  useEffect(() => {
    const host = place.current;
    if (!host) return;
    // Asked for at each drawing: the system may wish for other colours while the page is open.
    const ink = (): string => hueOf('ink');
    const made = new uPlot(
      {
        width: host.clientWidth || 340,
        height,
        padding: [PAD, PAD, PAD, 0],
        legend: { show: false },
        cursor: { show: false },
        scales: { x: { time: false, range: () => spanOf(now.current.passes) } },
        axes: [
          {
            show: last,
            stroke: ink,
            font: FONT,
            labelFont: FONT,
            grid: { show: false },
            ticks: { show: true, stroke: ink, width: 1, size: 4 },
            label: 'minutes',
            size: 24,
            labelSize: 20,
            incrs: STEPS,
            space: 44,
            values: (_, times) => times.map(timeOf),
          },
          {
            stroke: ink,
            font: FONT,
            labelFont: FONT,
            grid: { stroke: () => hueOf('faint'), width: 1 },
            ticks: { show: false },
            size: 50,
            label: kind.label,
            labelSize: 22,
            space: 26,
          },
        ],
        series: [
          {},
          // A pass holds its figure for as long as it takes; between passes without one there is nothing.
          {
            paths: (u) => ({ stroke: holdPath(u, now.current.passes) }),
            stroke: () => hueOf('picked'),
            width: 2,
            points: { show: false },
          },
        ],
        hooks: {
          drawClear: [(u) => drawShown(u, now.current)],
          draw: [(u) => drawLimit(u, now.current.kind)],
          ready: [
            (u) =>
              listen(
                u,
                (i) => pick.current(i),
                () => now.current.passes,
              ),
          ],
        },
      },
      dataOf(passes, kind),
      host,
    );
    plot.current = made;
    const resized = new ResizeObserver(() => made.setSize({ width: host.clientWidth, height }));
    resized.observe(host);
    const wish = matchMedia('(prefers-color-scheme: dark)');
    const recolour = (): void => made.redraw(false);
    wish.addEventListener('change', recolour);
    return () => {
      wish.removeEventListener('change', recolour);
      resized.disconnect();
      made.destroy();
      plot.current = null;
    };
  }, []);
  useEffect(() => plot.current?.setData(dataOf(passes, kind)), [passes]);
  useEffect(() => plot.current?.redraw(false), [shown, kind.limit]);
  return <div ref={place} class={last ? 'pass-plot pass-plot-last' : 'pass-plot'} />;
};

/** From when to when each pass is cut, s; passes of unknown time stand one beside the other. */
const timesOf = (passes: readonly PassSurvival[]) => passes.map((p, i) => p.time ?? { from: i, to: i + 1 });

const spanOf = (passes: readonly PassSurvival[]): [number, number] => {
  const times = timesOf(passes);
  return [times[0]?.from ?? 0, Math.max(1, times.at(-1)?.to ?? 1)];
};

const dataOf = (passes: readonly PassSurvival[], kind: Kind): uPlot.AlignedData => [
  timesOf(passes).map((t) => t.from),
  passes.map((p) => {
    const v = kind.value(p);
    return v === null ? null : Math.min(v, kind.most);
  }),
];

/** Level over each pass, and straight to the next where that has a figure too. */
const holdPath = (u: uPlot, passes: readonly PassSurvival[]): Path2D => {
  const path = new Path2D();
  const values = u.data[1]!;
  const least = 3 * devicePixelRatio;
  /** Where the line stands; null after a pass without a figure. */
  let at: number | null = null;
  timesOf(passes).forEach(({ from, to }, i) => {
    const value = values[i] ?? null;
    if (value !== null) {
      const [x0, x1] = [u.valToPos(from, 'x', true), u.valToPos(to, 'x', true)];
      const y = u.valToPos(value, 'y', true);
      // A pause, for another cutter or a pass by hand, is no slope.
      const joins = at !== null && x0 - at < least;
      if (joins) path.lineTo(x0, y);
      else path.moveTo(x0, y);
      at = joins ? x1 : Math.max(x1, x0 + least);
      path.lineTo(at, y);
    } else at = null;
  });
  return path;
};

/** A press on a plot, or a finger drawn along it, chooses the pass that is cut at that time. */
const listen = (u: uPlot, pick: (pass: number) => void, passes: () => readonly PassSurvival[]): void => {
  const choose = (e: PointerEvent): void => {
    const at = u.posToVal(e.clientX - u.over.getBoundingClientRect().left, 'x');
    const later = timesOf(passes()).findIndex((t) => t.to >= at);
    pick(later < 0 ? passes().length - 1 : later);
  };
  u.over.addEventListener('pointerdown', (e) => {
    if (!e.isPrimary || e.button !== 0) return;
    u.over.setPointerCapture(e.pointerId);
    choose(e);
  });
  u.over.addEventListener('pointermove', (e) => {
    if (u.over.hasPointerCapture(e.pointerId)) choose(e);
  });
};

/** The pass under the slider, from its beginning to its end. */
const drawShown = (
  u: uPlot,
  { passes, shown }: { readonly passes: readonly PassSurvival[]; readonly shown: number },
): void => {
  const time = timesOf(passes)[shown];
  if (!time) return;
  const { ctx, bbox } = u;
  const [x0, x1] = [u.valToPos(time.from, 'x', true), u.valToPos(time.to, 'x', true)];
  ctx.save();
  ctx.fillStyle = hueOf('picked-wash');
  ctx.fillRect(x0, bbox.top, x1 - x0, bbox.height);
  ctx.strokeStyle = hueOf('ink');
  ctx.lineWidth = 1.5 * devicePixelRatio;
  ctx.beginPath();
  ctx.moveTo(x0, bbox.top);
  ctx.lineTo(x0, bbox.top + bbox.height);
  ctx.stroke();
  ctx.restore();
};

/** The line that is not to be crossed. */
const drawLimit = (u: uPlot, { limit }: Kind): void => {
  if (limit === null) return;
  const { ctx, bbox } = u;
  const y = u.valToPos(limit, 'y', true);
  if (y < bbox.top || y > bbox.top + bbox.height) return;
  ctx.save();
  ctx.lineWidth = 1.5 * devicePixelRatio;
  ctx.strokeStyle = hueOf('warning');
  ctx.setLineDash([6 * devicePixelRatio, 4 * devicePixelRatio]);
  ctx.beginPath();
  ctx.moveTo(bbox.left, y);
  ctx.lineTo(bbox.left + bbox.width, y);
  ctx.stroke();
  ctx.restore();
};
