import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { hueOf } from '../../sketch/canvas/ink.ts';
import type { PeelWay } from '../compare-peeling.ts';

interface ForceChartProps {
  readonly plain: PeelWay;
  readonly peeled: PeelWay;
}

const HEIGHT = 150;

/** Force along the time of a job step, both ways on one scale; the table beside it says the same in figures. */
export const ForceChart = ({ plain, peeled }: ForceChartProps) => {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const host = place.current;
    if (!host) return;
    const ink = hueOf('ink');
    const stepped = uPlot.paths.stepped ? { paths: uPlot.paths.stepped({ align: 1 }) } : {};
    const points = { show: false };
    const made = new uPlot(
      {
        width: host.clientWidth || 340,
        height: HEIGHT,
        legend: { show: false },
        cursor: { show: false },
        scales: { x: { time: false } },
        axes: [
          { stroke: ink, grid: { show: false }, size: 34, label: 'Minutes', labelSize: 16, values: minutes },
          { stroke: ink, grid: { show: false }, size: 52, label: 'Force, N', labelSize: 18 },
        ],
        series: [
          {},
          { stroke: ink, width: 1.5, points, spanGaps: true, ...stepped },
          { stroke: hueOf('picked'), width: 1.5, dash: [6, 4], points, spanGaps: true, ...stepped },
        ],
      },
      together(plain, peeled),
      host,
    );
    return () => made.destroy();
  }, [plain, peeled]);
  return <div ref={place} class="pass-plot" aria-hidden="true" />;
};

const minutes = (_: uPlot, values: readonly number[]): string[] =>
  values.map((s) => `${Number((s / 60).toFixed(1))}`);

/** Both on one row of times, with a last place where each ends. */
const together = (plain: PeelWay, peeled: PeelWay): uPlot.AlignedData =>
  uPlot.join([seriesOf(plain), seriesOf(peeled)]);

const seriesOf = ({ times, forces, seconds }: PeelWay): [number[], number[]] => [
  [...times, seconds],
  [...forces, 0],
];
