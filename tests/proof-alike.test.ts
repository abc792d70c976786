import { expect, it } from 'vitest';
import { indexRegion } from '../gcode/proof/distance.ts';
import { indexSolid } from '../gcode/proof/gouge.ts';
import { hitOn } from '../gcode/proof/hold.ts';
import { comingFree, watchPieces } from '../gcode/proof/loose.ts';
import { runsOf } from '../gcode/proof/pieces.ts';
import type { ProofPass, ProofSetup } from '../gcode/proof/proof.ts';
import { engagementFindings } from '../gcode/proof/report-engagement.ts';
import { watchGouges } from '../gcode/proof/report-gouges.ts';
import { holdFindings } from '../gcode/proof/report-hold.ts';
import { watchShanks } from '../gcode/proof/shank.ts';
import type { Bar } from '../sketch/part/part.ts';
import type { Solid } from '../sketch/part/solid.ts';
import { rectangle } from '../sketch/shape/region.ts';
import { cutPath } from '../toolpath/removal/cut-path.ts';
import { drawnColumns, drawnMap, jawsOn } from './proof-map.ts';
import { cutters } from './proof-plate.ts';

// Of what is alike the first is told, so that a report reads the same today and tomorrow.

const bar: Bar = {
  length: 20,
  width: 10,
  thickness: 5,
  material: 'brass',
  corner: { x: 0, y: 0 },
  sawn: 0,
};
const region = rectangle({ x: 0, y: 0 }, { x: 20, y: 10 });
const block: Solid = { slabs: [{ bottom: 0, top: 5, region }] };
const setup = { number: 2 } as ProofSetup;
/** Along X at a Y and a height, on a line of the text and in a pass. */
const along = (y: number, z: number, line: number, pass = 0, fluteLength = 13) =>
  cutPath(
    { kind: 'feed', from: { x: 5, y, z }, to: { x: 9, y, z }, line },
    { ...cutters[0]!, fluteLength },
    { face: 'front', zero: { x: 0, y: 0, z: 0 } },
    { setup: 0, pass },
  );
const lines = (findings: readonly { readonly message: string }[]): readonly number[] =>
  findings.map((f) => Number(/[lL]ine (\d+)/.exec(f.message)![1]));

it('of pieces of a part', () => {
  const none = '........';
  const wanted = [none, none, '..P..P..', '..P..P..', none, none];
  const ring = ['########', '#......#', '#.#..#.#', '#.#..#.#', '#......#', '########'];
  const [was, now] = [drawnMap(wanted.map(() => '########')), drawnMap(ring)];
  const columns = drawnColumns(wanted);
  const frame = jawsOn(20, 26, 0, 40);
  const watch = watchPieces(was, columns, frame, runsOf(was));
  const free = comingFree(now, columns, frame, watch, runsOf(now)).filter((piece) => piece.isPart);
  expect(free.map(({ at }) => at)).toEqual([{ x: 12.5, y: 22.5, z: 2 }]);
});

it('of hits in a pass, each pass by itself', () => {
  const jaws = { ...jawsOn(0, 10, 0, 20), jawTop: 2 };
  const told = (...paths: ReturnType<typeof along>[]) => {
    const { findings, jawHits } = holdFindings(paths, [], jaws, setup, bar);
    return [lines(findings), jawHits];
  };
  expect(told(along(-1, 1, 3), along(-2, 1, 4), along(-1, 1, 5))).toEqual([[3], 3]);
  expect(told(along(-1, 1, 3), along(-1, 0.5, 4), along(-1, 1, 5, 1))).toEqual([[4, 5], 3]);
});

it('of gouges, at whatever places', () => {
  const watch = watchGouges(indexSolid(block), setup, 0.02);
  for (const line of [3, 4]) watch.meet(along(5, 4, line));
  expect(lines(watch.findings([]))).toEqual([3]);
});

it('of shanks that rub, each cutter by itself', () => {
  const watch = watchShanks(indexSolid(block), setup);
  for (const line of [3, 4]) watch.meet(along(-3, 1, line, 0, 2));
  expect(lines(watch.findings([]))).toEqual([3]);
  watch.meet(along(-3, 0.5, 5, 0, 2));
  expect(lines(watch.findings([]))).toEqual([5]);
});

it('of passes over a limit', () => {
  const pass = (line: number, most_deg: number): ProofPass => ({
    step: 'slot',
    z_mm: -1,
    kind: 'rough',
    webLeft_mm: null,
    engagement: { most_deg, entry_deg: 0, at_mm: [1, 2, 3], line, limit_deg: 60 },
  });
  const limits = [{ step: 'slot', engagement: Math.PI / 3 }];
  const told = (...passes: ProofPass[]) => engagementFindings({ ...setup, limits }, passes);
  expect(lines(told(pass(3, 90), pass(4, 90)))).toEqual([3]);
  expect(lines(told(pass(3, 80), pass(4, 90), pass(5, 85)))).toEqual([4]);
  expect(told(pass(3, 65))).toEqual([]);
  expect(told(pass(3, 65.01))[0]!.message).not.toContain('more passes');
});

it('a parallel may be shifted to the very side of the bar', () => {
  const wide: Bar = { ...bar, width: 20 };
  const said = (y: number, low: number): string => {
    const down = { ...along(y, -1, 3), length: 0 };
    const parallels = [indexRegion(rectangle({ x: 0, y: low }, { x: 20, y: low + 2 }))];
    const holding = { ...jawsOn(0, 20, 0, 20), jaws: null, parallels };
    return holdFindings([down], [], holding, setup, wide).findings[0]!.message.replace(/^.*drawing\. /, '');
  };
  // 3 of the cutter and 0.5 of room beside a plunge at 5.5 leave 0 to 2, at 14.5 they leave 18 to 20.
  expect(said(5.5, 2)).toBe("Shift that parallel 2.0 mm in Y, to 9.0 mm from the bar's middle.");
  expect(said(14.5, 16)).toBe("Shift that parallel 2.0 mm in Y, to 9.0 mm from the bar's middle.");
});

it('rubbing by just a hundredth is no hit', () => {
  const jaw = indexRegion(region);
  expect(hitOn(along(5, 0, 1), jaw, 0.01)).toBeNull();
  expect(hitOn(along(5, 0, 1), jaw, 0.02)?.amount).toBe(0.02);
  // Sideways, with a radius of 0.02 mm, that the sum comes out to the last bit.
  const thin = { ...along(-0.01, 1, 1), radius: 0.02 };
  expect(hitOn(thin, jaw, 2)).toBeNull();
  expect(hitOn({ ...thin, radius: 0.03 }, jaw, 2)?.amount).toBeCloseTo(0.02, 9);
});
