import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { hueOf } from '../../sketch/canvas/ink.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import { USUAL_LIMITS } from '../../toolpath/survival/verdict.ts';

interface PlotsProps {
  readonly passes: readonly PassSurvival[];
  /** The pass under the slider, by its place in `passes`; -1 for none. */
  readonly shown: number;
  readonly onPick: (pass: number) => void;
}

interface Kind {
  readonly label: string;
  readonly value: (p: PassSurvival) => number | null;
  /** Beyond this it is a finding; drawn as a line. */
  readonly limit: number | null;
  /** Higher than this is not drawn higher. */
  readonly most: number;
}

const KINDS: readonly Kind[] = [
  {
    label: 'Force, N',
    value: (p) => (p.force.most > 0 ? p.force.most : null),
    limit: null,
    most: Number.POSITIVE_INFINITY,
  },
  {
    label: 'Moves, mm',
    value: (p) => p.movement,
    limit: USUAL_LIMITS.movement,
    most: Number.POSITIVE_INFINITY,
  },
  { label: 'Hold, times', value: (p) => p.hold?.least ?? null, limit: USUAL_LIMITS.hold, most: 20 },
  { label: 'Web, mm', value: (p) => p.web, limit: null, most: Number.POSITIVE_INFINITY },
];

/** Force, movement, hold and web along the program, one under the other, with the shown pass marked in all of them. */
export const PassPlots = (p: PlotsProps) => (
  <div class="pass-plots" aria-hidden="true">
    {KINDS.map((kind) => (
      <Plot key={kind.label} {...p} kind={kind} />
    ))}
  </div>
);

const HEIGHT = 96;
const PAD = 8;

const Plot = ({ passes, shown, onPick, kind }: PlotsProps & { readonly kind: Kind }) => {
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const shownNow = useRef(shown);
  shownNow.current = shown;
  const pick = useRef(onPick);
  pick.current = onPick;

  useEffect(() => {
    const host = place.current;
    if (!host) return;
    const ink = hueOf('ink');
    const made = new uPlot(
      {
        width: host.clientWidth || 340,
        height: HEIGHT,
        padding: [PAD, PAD, 0, 0],
        legend: { show: false },
        cursor: { show: false },
        scales: { x: { time: false } },
        axes: [
          { stroke: ink, grid: { show: false }, ticks: { show: false }, size: 22, values: minutes },
          { stroke: ink, grid: { show: false }, size: 52, label: kind.label, labelSize: 18, space: 26 },
        ],
        series: [
          {},
          {
            stroke: hueOf('picked'),
            width: 1.5,
            // A pass holds its figure for as long as it takes.
            ...(uPlot.paths.stepped ? { paths: uPlot.paths.stepped({ align: 1 }) } : {}),
            spanGaps: false,
            points: { show: true, size: 3 },
          },
        ],
        hooks: {
          draw: [(u) => drawMarks(u, kind, shownNow.current)],
          ready: [
            (u) => {
              u.over.addEventListener('click', (e) => {
                const at = u.posToVal(e.offsetX, 'x');
                const times = u.data[0];
                let best = 0;
                times.forEach((t, i) => {
                  if (t <= at) best = i;
                });
                pick.current(best);
              });
            },
          ],
        },
      },
      dataOf(passes, kind),
      host,
    );
    plot.current = made;
    const resized = new ResizeObserver(() => made.setSize({ width: host.clientWidth, height: HEIGHT }));
    resized.observe(host);
    return () => {
      resized.disconnect();
      made.destroy();
      plot.current = null;
    };
  }, []);
  useEffect(() => plot.current?.setData(dataOf(passes, kind)), [passes]);
  useEffect(() => plot.current?.redraw(false), [shown]);
  return <div ref={place} class="pass-plot" />;
};

const minutes = (_: uPlot, values: readonly number[]): string[] =>
  values.map((s) => `${Number((s / 60).toFixed(1))}`);

const dataOf = (passes: readonly PassSurvival[], kind: Kind): uPlot.AlignedData => [
  passes.map((p, i) => p.time?.from ?? i),
  passes.map((p) => {
    const v = kind.value(p);
    return v === null ? null : Math.min(v, kind.most);
  }),
];

/** The line that is not to be crossed, and the pass under the slider. */
const drawMarks = (u: uPlot, kind: Kind, shown: number): void => {
  const { ctx, bbox } = u;
  ctx.save();
  ctx.lineWidth = 1.5;
  if (kind.limit !== null) {
    const y = u.valToPos(kind.limit, 'y', true);
    if (y >= bbox.top && y <= bbox.top + bbox.height) {
      ctx.strokeStyle = hueOf('warning');
      ctx.setLineDash([6, 4]);
      ctx.beginPath();
      ctx.moveTo(bbox.left, y);
      ctx.lineTo(bbox.left + bbox.width, y);
      ctx.stroke();
    }
  }
  const time = u.data[0][shown];
  if (time !== undefined) {
    const x = u.valToPos(time, 'x', true);
    ctx.strokeStyle = hueOf('ink');
    ctx.setLineDash([]);
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
  }
  ctx.restore();
};
