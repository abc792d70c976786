import { describe, expect, test } from 'vitest';
import { proveRecommendation } from '../gcode/advice.ts';
import { planPart, recommendSubject } from '../gcode/chain.ts';
import { orderPictures } from '../gcode/survival/order-pictures.ts';
import { orderReasons } from '../gcode/survival/order-words.ts';
import { adviceLines, adviceOf } from '../gcode/survival/report.ts';
import { assess } from '../toolpath/survival/assess.ts';
import { compareOrders, foldAlike, orderings } from '../toolpath/survival/orders.ts';
import { recommend, recommendInSteps } from '../toolpath/survival/recommend.ts';
import { sampleText } from './samples.ts';

const planned = planPart(sampleText('vent-latch-lever'));
if (!planned.ok) throw new Error('the sample is refused');
const { subject, own } = recommendSubject(planned);
const COARSE = { cell: 0.4, brick: 1.75, places: 1 } as const;
const THIN = 'thin body from the back';

/** Width of the fork's mouth at the left end of an outline, a path with Y down: between the two corners next to its middle. */
const mouthOf = (path: string): number => {
  const points = [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(
    (m) => [Number(m[1]), Number(m[2])] as const,
  );
  const left = Math.min(...points.map(([x]) => x));
  const ys = points.filter(([x]) => x < left + 1.5).map(([, y]) => y);
  const middle = (Math.max(...ys) + Math.min(...ys)) / 2;
  const nearest = (side: 1 | -1): number =>
    Math.min(...ys.map((y) => side * (y - middle)).filter((d) => d > 0.5));
  return nearest(1) + nearest(-1);
};

describe('A recommended route', () => {
  const found = recommend(subject, own, COARSE);

  test('keeps every movement within the tolerance, where the proposal does not', () => {
    expect(found.before.movement).toBeGreaterThan(0.1);
    expect(found.after.movement).toBeLessThanOrEqual(0.02);
    expect(found.enough).toBe(true);
    // What stays on finished walls and floors too, and of those alone: roughing may bend its cutter into what it leaves.
    expect(found.before.left).toBeGreaterThan(0.04);
    expect(found.after.left).toBeLessThanOrEqual(0.02);
    const all = found.before.passes.map((p) => Math.max(p.error?.wall ?? 0, p.error?.floor ?? 0));
    expect(Math.max(...all)).toBeGreaterThan(3 * found.before.left);
    // Solved where it counts, not estimated alone.
    expect(found.after.worst!.basis).toBe('solved');
  });

  test('is a change of the part document that says no more than it must', () => {
    expect(found.route!.order).toBeUndefined();
    // A cutter as wide as the fork leaves its walls as it goes: shallower; the corners' finishing lap is lighter.
    expect(Object.keys(found.route!.adjust!).sort()).toEqual([
      'fork',
      'outline, corners',
      'release fork',
      THIN,
    ]);
    expect(found.route!.adjust!['outline, corners']).toEqual({ wallAllowance: expect.any(Number) });
    expect(found.route!.adjust!['outline, corners']!.wallAllowance).toBeLessThan(0.2);
    expect(found.route!.adjust!.fork!.stepDown!).toBeLessThan(0.75);
    expect(found.route!.setups).toEqual({ 2: { packing: [{ kind: 'fork', fork: 'fork' }] } });
    const thin = found.route!.adjust![THIN]!;
    // The arm gets softer with every pass, so passes get thinner on the way.
    expect(thin.levels).toMatchObject({ kind: 'falling' });
    expect(thin.stepDown!).toBeLessThan(1);
    expect(thin.stepDown!).toBeGreaterThanOrEqual(0.1);
    const again = assess(subject, found.route!, { ...COARSE, above: 0.012 });
    expect(again.movement).toBeCloseTo(found.after.movement, 6);
  });

  test('takes no longer than it must: a third deeper and the tolerance is broken', () => {
    const thin = found.route!.adjust![THIN]!;
    const deeper = { ...found.route!.adjust, [THIN]: { ...thin, stepDown: thin.stepDown! * 1.5 } };
    expect(assess(subject, { adjust: deeper }, COARSE).movement).toBeGreaterThan(0.02);
  });

  test('is explained with its numbers', () => {
    const [web, packing] = found.reasons;
    const step = found.reasons.find((r) => r.startsWith(THIN));
    const time = found.reasons.at(-1);
    expect(found.reasons.join('\n')).toMatch(
      /^fork: at 1\.5 mm a pass its finished wall is left off by about 0\.05\d mm.*, at 0\.\d+ mm \(\d+ passes, the last 0\.\d+ mm deep\) about 0\.01\d mm, most of it the cutter/m,
    );
    expect(found.reasons.join('\n')).toMatch(
      /^outline, corners: with 0\.2 mm left for its finishing lap the walls come out off by about 0\.02\d mm, .*; with 0\.1\d mm by about 0\.0[12]\d mm\.$/m,
    );
    expect(packing).toMatch(
      /^fork: while its web goes in setup 2 the jaws hold it closed by about 0\.0[5-9]\d mm, .* with a packing piece in the slot about 0\.00\d+ mm: so put one in/,
    );
    // The number of passes and the last depth are those of the route that is recommended.
    const said = /\((\d+) passes, the last (0\.\d+) mm deep\)/.exec(step!)!;
    const heights = found.after
      .question!.passes.filter((p) => p.step === THIN && p.kind === 'rough')
      .map((p) => Math.min(...p.motions.map((m) => m.stroke.to.z)));
    const levels = [...new Set(heights.map((z) => z.toFixed(3)))].map(Number).sort((a, b) => a - b);
    expect(Number(said[1])).toBe(levels.length);
    expect(Number(said[1])).toBeGreaterThan(10);
    expect(Math.abs(Number(said[2]) - (levels[1]! - levels[0]!))).toBeLessThan(0.0051);
    expect(web).toMatch(/with the 0\.5 mm web .* without it .* so the web goes last, at 0\.25 mm depth/);
    expect(step).toMatch(
      /^thin body from the back: at 2\.5 mm a pass the work moves about 0\.\d+ mm at the /,
    );
    expect(time).toMatch(/min in place of \d+ min/);
    // What is better at one thing and not taken is told, with the reason.
    expect(found.left.join('\n')).toMatch(
      /^webs released before thinning: the jaws would hold a fork closed by about 0\.0\d+ mm in place of about 0\.0\d+ mm while its web goes; packing does more, about 0\.00\d+ mm, so the order stays as it is\.$/m,
    );
    expect(found.left.join('\n')).toMatch(
      /^thin body from the back: peeled, buried by \d+° at most, .*about \d+ min of cutting; without that limit,? about \d+/m,
    );
  });

  test('makes a part that fits, and is withdrawn where it would not', () => {
    expect(proveRecommendation(planned, found).route).toEqual(found.route);
    const unfit = { ...found, route: { order: { 1: ['square ends'], 2: [] } } };
    const withdrawn = proveRecommendation(planned, unfit);
    expect(withdrawn.route).toBeNull();
    expect(withdrawn.reasons.at(-1)).toContain('would not fit');
  });

  test('never touches what the user has chosen, and names what stood in the way', () => {
    const chosen = {
      adjust: { [THIN]: { stepDown: 1.5, cutter: '12 mm endmill' }, fork: { web: 1 } },
      setups: { 2: { packing: [{ kind: 'block' as const, from: 50, to: 60 }] } },
    };
    const theirs = recommend(subject, chosen, COARSE);
    expect(theirs.route?.adjust?.[THIN] ?? chosen.adjust[THIN]).toMatchObject({ stepDown: 1.5 });
    expect(theirs.route?.adjust?.fork ?? chosen.adjust.fork).toMatchObject({ web: 1 });
    expect(theirs.kept.join()).toContain('the web of fork, 1 mm');
    expect(theirs.kept.join()).toContain(`the step-down of ${THIN}, 1.5 mm`);
    expect(theirs.route?.setups ?? chosen.setups).toEqual(chosen.setups);
    expect(theirs.kept.join()).toContain('the packing of setup 2');
    expect(theirs.enough).toBe(false);
    // Nothing that is left keeps it still: what a plate would do was solved, and is only told.
    expect(theirs.reasons.join(' ')).toMatch(
      /In setup 2 the work still moves about 0\.\d+ mm, more than 0\.02 mm\. Taped flat on a plate .* it would move .*0\.\d+ mm, and the glue bears (about \d+\.\d+ times|less than a tenth of) the force/,
    );
    expect(JSON.stringify(theirs.route)).not.toContain('plate');
  });

  test('can be stopped between two of its looks', () => {
    const steps = recommendInSteps(subject, own, COARSE);
    const first = steps.next();
    expect(first.done).toBe(false);
    if (first.done) return;
    expect(first.value.what).toBe('as it is');
    expect(steps.return(found).done).toBe(true);
  });
});

describe('Orders side by side', () => {
  const rows = compareOrders(subject, own, COARSE);
  const row = (name: string) => rows.find((r) => r.name === name)!;
  const THROUGH = 'forks and slots after thinning, right through without a web';

  test('a fork cut first on solid bar with a web is held true; right through on thinned work the jaws close it', () => {
    expect(rows.map((r) => [r.name, r.refused])).toEqual([
      ['as it is', null],
      ['webs released before thinning', null],
      ['forks and slots after thinning', null],
      [THROUGH, null],
    ]);
    expect(row(THROUGH).closes / row('as it is').closes).toBeGreaterThan(8);
    // With a web it does little harm to cut it late.
    expect(row('forks and slots after thinning').closes).toBeLessThan(0.01);
    // Webs that go while the whole bar is gripped are closed less than those that go last.
    expect(row('as it is').released / row('webs released before thinning').released).toBeGreaterThan(1.5);
    expect(row(THROUGH).released).toBe(0);
    const lines = adviceLines(adviceOf({ ...recommendation(), reasons: [], route: null }, rows, 'mm'), 'mm');
    expect(lines.filter((line) => /jaws close the fork 0\.\d{3,4} mm as it is cut/.test(line))).toHaveLength(
      4,
    );
    expect(lines.join('\n')).toMatch(
      /While a fork is cut the jaws hold it closed by about 0\.00\d+ mm .* or 0\.0\d+ mm .*, \d+ times as much\./,
    );
  });

  test('each fork is judged at the moment its own job step is done, not when the setup is', () => {
    const { squeezes } = row('webs released before thinning').way;
    const [cut, released] = squeezes[0]!.forks;
    expect([cut!.work, released!.work]).toEqual(['cut', 'released']);
    // The web that stood while it was cut is gone by the end of the setup.
    expect(released!.closes).toBeCloseTo(squeezes[0]!.after!.gaps[0]!.closes, 3);
    expect(cut!.closes).toBeLessThan(released!.closes / 4);
  });

  test('are drawn as the jaws hold the fork at those moments, all as large as is said', () => {
    const [jaws, ...others] = orderPictures(rows, COARSE, 12, 'mm');
    // They move alike under the cutter: that is no picture of why.
    expect([jaws!.by, others]).toEqual(['jaws', []]);
    expect(jaws!.figures).toHaveLength(7);
    /** How much narrower the mouth is drawn than it is at rest: the tines' inner corners at the left end. */
    const closing = (order: string, words: RegExp): number => {
      const { view } = jaws!.figures.find((f) => f.order === order && words.test(f.words))!;
      const rim = view.work.find((p) => p.kind === 'rim')!.path;
      return mouthOf(view.rest) - mouthOf(rim);
    };
    for (const [order, closes] of [
      ['as it is', row('as it is').closes],
      [THROUGH, row(THROUGH).closes],
    ] as const) {
      // A drawn line is good to the smoothing of a coarse cell.
      expect(Math.abs(closing(order, /^as fork is cut/) - jaws!.exaggeration * closes)).toBeLessThan(0.6);
    }
    expect(closing(THROUGH, /cut/)).toBeGreaterThan(0.5);
    expect(jaws!.figures.find((f) => f.order === THROUGH)!.words).toBe(
      `as fork is cut, setup 2, the jaws hold it closed by about ${row(THROUGH).closes.toFixed(3)} mm`,
    );
  });

  test('that come out alike are one row that says so', () => {
    const [first, second] = rows;
    const twins = foldAlike([first!, { ...second!, ...first!, name: 'the other way round' }, row(THROUGH)]);
    expect(twins.map((r) => [r.name, r.alike])).toEqual([
      ['as it is', ['the other way round']],
      [THROUGH, []],
    ]);
    expect(orderReasons(twins.slice(0, 1), 'mm')).toEqual([
      '2 orders come out alike, so the order is no matter here: as it is; the other way round.',
    ]);
    // With nothing to tell apart the worst pass is drawn.
    const [cutter] = orderPictures(twins.slice(0, 1), COARSE, 12, 'mm');
    expect(cutter!.by).toBe('cutter');
    expect(cutter!.figures[0]!.words).toMatch(
      /^it moves most in thin body from the back, pass \d: about 0\.\d+ mm/,
    );
  });

  test('are only those that differ, each with all its job steps', () => {
    const all = orderings(planned.route);
    for (const { order } of all) {
      const names = Object.values(order).flat();
      expect([...names].sort()).toEqual(
        planned.route.setups.flatMap((s) => s.steps.map((x) => x.name)).sort(),
      );
    }
    const bare = {
      setups: [{ ...planned.route.setups[0]!, steps: planned.route.setups[0]!.steps.slice(0, 1) }],
    };
    expect(orderings(bare)).toHaveLength(1);
  });

  const recommendation = () => {
    const before = assess(subject, own, { ...COARSE, steps: [] });
    return { route: null, reasons: [], kept: [], left: [], before, after: before, enough: false };
  };
});

test('where only the hold is at fault, passes that take many times as long are not recommended', () => {
  const crank = JSON.parse(sampleText('winch-bell-crank'));
  const places = [
    { x: 15, y: 29 },
    { x: 37, y: 17 },
  ];
  // Clamps that hardly press: passes thin enough for them take for ever, and the part moves by its own slimness still.
  const route = { setups: { 1: { plate: { kind: 'clamps', places, force: 150 } } } };
  const clamped = planPart(JSON.stringify({ ...crank, route }));
  if (!clamped.ok) throw new Error('refused');
  const { subject: held, own: wished } = recommendSubject(clamped);
  const tolerance = 0.003;
  const found = recommend(held, wished, { ...COARSE, tolerance });
  expect(found.before.movement).toBeGreaterThan(3 * tolerance);
  expect(found.route).toBeNull();
  expect(found.enough).toBe(false);
  expect(found.reasons.join(' ')).toMatch(/Shallower passes alone do not do: .* Hold it better: more clamps/);
}, 300_000);
