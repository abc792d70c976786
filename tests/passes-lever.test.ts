import { describe, expect, test } from 'vitest';
import { outlineOf } from '../sketch/part/outline.ts';
import type { Part } from '../sketch/part/part.ts';
import { signedDistance } from '../sketch/shape/region.ts';
import { segmentLength } from '../sketch/shape/segment.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { Pass, PlannedStep } from '../toolpath/passes/pass.ts';
import { planRoute } from '../toolpath/passes/plan.ts';
import { regionInProgram } from '../toolpath/passes/workpiece.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import type { OutlineStep, Route } from '../toolpath/route/route.ts';
import { placesAlong, tracksOf } from './passes-samples.ts';

/** A plain lever of two ends and one arm, no holes. */
const lever: Part = {
  name: 'Plain lever',
  unit: 'mm',
  bar: {
    length: 70,
    width: 25,
    thickness: 5,
    material: 'free-cutting steel',
    corner: { x: -10, y: -12.5 },
    sawn: 0,
  },
  ends: [
    { name: 'large', centre: { x: 0, y: 0 }, radius: 7 },
    { name: 'small', centre: { x: 46, y: 2 }, radius: 5 },
  ],
  arms: [{ name: 'arm', from: 'large', to: 'small' }],
  plates: [],
  holes: [],
  slots: [],
  forks: [],
  lands: [],
  leastWall: 0.8,
};

const outlineStepsOf = (route: Route): readonly PlannedStep[] =>
  planRoute(lever, route, standardProfile).setups.flatMap((s) =>
    s.steps.filter((t) => t.step.kind === 'outline'),
  );

const kindsOf = (pass: Pass): string => pass.moves.map((m) => m.kind).join(' ');

describe('the finishing lap of a two-ended lever', () => {
  const proposal = proposeRoute(lever, standardProfile);
  const steps = outlineStepsOf(proposal.route);
  const finish = steps.flatMap((s) => s.passes.filter((p) => p.kind === 'finish'));

  test('is planned without a fault', () => {
    const plan = planRoute(lever, proposal.route, standardProfile);
    expect([...proposal.findings, ...plan.findings].filter((f) => f.severity === 'error')).toEqual([]);
    expect(finish.length).toBeGreaterThan(0);
  });

  test('is two lines and two arcs, begun and ended where an arc runs into a line, with one arc to come and one to go', () => {
    const lap = finish.at(-1)!;
    // Down beside the work, the lead's quarter circle, line, arc, line, arc, the other quarter.
    expect(kindsOf(lap)).toMatch(/^(rapid )+feed arc feed arc feed arc arc rapid$/);
    const tracks = tracksOf(lap.moves).filter((t) => segmentLength(t.segment) > 0);
    const radius = steps.find((s) => s.passes.includes(lap))!.cutter.diameter / 2;
    const arcs = tracks.flatMap((t) =>
      t.segment.kind === 'arc' ? [segmentLength(t.segment) / Math.abs(t.segment.sweep)] : [],
    );
    expect(arcs[1]! + arcs[2]!).toBeCloseTo(7 + 5 + 2 * radius, 6);
    // The lap's own length is the outline's moved out by the cutter's radius: P + 2 π r.
    const beta = Math.asin(2 / Math.hypot(46, 2));
    const around =
      7 * (Math.PI + 2 * beta) + 5 * (Math.PI - 2 * beta) + 2 * Math.hypot(46, 2) * Math.cos(beta);
    const lapLength = tracks.slice(1, -1).reduce((sum, t) => sum + segmentLength(t.segment), 0);
    expect(lapLength).toBeCloseTo(around + 2 * Math.PI * radius, 5);
    for (const t of tracks) expect(t.to.z).toBe(lap.z);
  });

  test('runs clockwise round the outside: climb milling with the wall to the right', () => {
    const lap = finish.at(-1)!;
    const area = tracksOf(lap.moves).reduce((sum, t) => sum + (t.from.x * t.to.y - t.to.x * t.from.y) / 2, 0);
    expect(area).toBeLessThan(-100);
    const arcs = lap.moves.filter((m) => m.kind === 'arc');
    for (const m of arcs.slice(1, -1)) expect(m.clockwise).toBe(true);
  });

  test('cut the other way on demand, the arcs turn the other way', () => {
    const route: Route = {
      setups: proposal.route.setups.map((setup) => ({
        ...setup,
        steps: setup.steps.map((s) =>
          s.kind === 'outline' ? ({ ...s, direction: 'conventional' } satisfies OutlineStep) : s,
        ),
      })),
    };
    const laps = outlineStepsOf(route).flatMap((s) => s.passes.filter((p) => p.kind === 'finish'));
    const arcs = laps.at(-1)!.moves.filter((m) => m.kind === 'arc');
    expect(arcs).toHaveLength(4);
    for (const m of arcs.slice(1, -1)) expect(m.clockwise).toBe(false);
  });

  test('and all passes before it leave the outline alone: the cutter stays its radius away', () => {
    for (const { frame, steps: planned } of planRoute(lever, proposal.route, standardProfile).setups) {
      const outline = regionInProgram(frame, outlineOf(lever));
      for (const { step, passes, cutter } of planned) {
        if (step.kind !== 'outline') continue;
        for (const t of tracksOf(passes.flatMap((p) => p.moves)))
          for (const p of placesAlong(t.segment, 0.5))
            expect(signedDistance(outline, p)).toBeGreaterThan(cutter.diameter / 2 - 1e-4);
      }
    }
  });
});
