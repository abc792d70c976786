import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PlannedPart, planPart } from '../gcode/chain.ts';
import { sheetHtml } from '../gcode/sheet/sheet.ts';
import { tableText } from '../gcode/table/csv.ts';
import { lengthJobOf, thicknessJobsOf } from '../gcode/table/guided.ts';
import { handRows } from '../gcode/table/hand-rows.ts';
import { afterRoughing, secondEnd } from '../gcode/table/measured.ts';
import { armsByHand, roundEndsByHand } from '../gcode/table/round-ends.ts';
import { tableOf } from '../gcode/table/table.ts';
import { distance } from '../sketch/shape/point.ts';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import type { MachineProfile } from '../toolpath/machine/profile.ts';
import { readProfile } from '../toolpath/machine/profile-document.ts';
import { bundle, type Ran, run } from './cli.ts';
import { SAMPLES, sampleText } from './samples.ts';

const read = readProfile(
  readFileSync(new URL('../samples/machines/metric-handwheel-mill.json', import.meta.url), 'utf8'),
);
if (!read.ok) throw new Error(read.findings[0]?.message);
const METRIC = read.profile;
const planned = (name: string, profile: MachineProfile = METRIC): PlannedPart => {
  const plan = planPart(sampleText(name), { profile });
  if (!plan.ok) throw new Error(plan.findings[0]?.message);
  return plan;
};
const FITS = { verdict: 'fits', findings: [], gougeMax_mm: 0.001, excessMax_mm: 0.02, rows: 9 } as const;

describe('A sheet for handwheels', () => {
  const lever = planned('vent-latch-lever');
  const html = sheetHtml(lever, null, FITS);

  test('holds every place and every dial of the table, and marks what is reached turning back', () => {
    const table = tableOf(lever.plan, 'mm', METRIC);
    const figure = (t: { count: number; turns: number; divisions: number }): string =>
      `${t.count < 0 ? '−' : ''}${Math.abs(t.turns)} t ${Math.abs(t.divisions)}`;
    let past = 0;
    for (const { dials } of table.setups) {
      for (const { x, y, z } of dials!) {
        for (const dial of [x, y]) {
          expect(html).toContain(`>${figure(dial.total)}${dial.against ? ' ‹' : ''}</td>`);
          if (dial.pastTotal === null) continue;
          past += 1;
          expect(html).toContain(`<small>past ${figure(dial.pastTotal)}</small>`);
        }
        expect(html).toContain(figure(z.total));
      }
    }
    expect(past).toBeGreaterThan(5);
    expect(html).toContain('slack 0.14 mm');
  });

  test('states the halves of edge finders, and the seconds of a turn', () => {
    expect(html).toContain('half 3.00');
    // The bar was sawn 1 mm over: its left end lies at X −1, half a 6 mm tip farther out.
    expect(html).toContain('X -4.00');
    expect(html).toContain('Y -3.00');
    // 2 mm a turn at 108 mm/min.
    expect(html).toContain('feed 108 mm/min (1.1 s a turn), against the cutter');
    expect(html).toContain('188 N at the end of its 160 mm handle');
  });

  test('has blanks for what is measured on the way, and what follows from it', () => {
    expect(html).toContain('Squaring to length 70.00 mm');
    expect(html).toMatch(/Set the readout to L \+ 6\.00 mm/);
    expect(html).toContain('Cut to X 76.00 mm');
    expect(html).toContain('it should be 2.70 mm');
    expect(html).toMatch(/Set Z to T − 9\.00 mm/);
    expect(html.match(/class="blank"/g)!.length).toBeGreaterThan(6);
  });

  test('says whether the table was done over, and warns where it does not fit', () => {
    expect(html).toContain('Done row after row by its dials, the table’s part <strong>fits</strong>');
    expect(html).not.toContain('doubtful:');
    expect(sheetHtml(lever, null)).toContain('were not done over');
    const finding = { code: 'x', severity: 'error', message: 'Row 12 cuts into the end.' } as const;
    const bad = sheetHtml(lever, null, { ...FITS, verdict: 'does not fit', findings: [finding] });
    expect(bad).toContain('Do not cut by the tables below');
    expect(bad).toContain('Row 12 cuts into the end.');
    expect(bad.match(/class="doubtful"/g)).toHaveLength(lever.plan.setups.length);
  });

  test('tells a readout’s machine how far on from the place before', () => {
    const readout = { ...METRIC, hand: { ...METRIC.hand!, readout: true } };
    const page = sheetHtml(planned('shutter-link', readout), null, FITS);
    expect(page).toContain('from before X');
    expect(page).not.toContain('X dial');
  });
});

describe('The increments of a table', () => {
  test.each(SAMPLES)('of %s add up to its places as printed', (name) => {
    const plan = planned(name);
    const [head, ...lines] = tableText(tableOf(plan.plan, plan.part.unit, METRIC))
      .trimEnd()
      .split('\r\n');
    const at = (title: string): number => head!.split(',').findIndex((h) => h.startsWith(title));
    let setup = '';
    let sum = { x: 0, y: 0 };
    for (const line of lines) {
      const cells = line.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/);
      if (cells[0] !== setup) sum = { x: 0, y: 0 };
      setup = cells[0]!;
      sum = { x: sum.x + Number(cells[at('from before X')]), y: sum.y + Number(cells[at('from before Y')]) };
      expect(sum.x).toBeCloseTo(Number(cells[at('X (')]), 6);
      expect(sum.y).toBeCloseTo(Number(cells[at('Y (')]), 6);
    }
  });
});

describe('Rows for two handwheels', () => {
  test('lie on the plan’s own way, never lower and never nearer to the wall than half a setting', () => {
    const { plan } = planned('damper-yoke');
    for (const setup of plan.setups) {
      const { rows, findings } = handRows(plan, setup, 'mm');
      expect(findings).toEqual([]);
      expect(new Set(rows.map((r) => r.coming))).not.toContain('arc');
      for (const step of setup.steps) {
        const lowest = Math.min(...step.passes.map((p) => p.z));
        const own = rows.filter(
          (r) => r.step === step.step.name && r.coming !== 'drill' && r.coming !== 'stop',
        );
        for (const row of own) expect(row.at.z).toBeGreaterThanOrEqual(lowest - 1e-9);
      }
    }
  });

  test('come down where a ramp ends and go up where it begins, so that nothing is lower than the ramp', () => {
    const { plan } = planned('shutter-link');
    const setup = plan.setups[0]!;
    const step = setup.steps.find((s) => s.step.kind === 'outline')!;
    const at = (x: number, y: number, z: number) => ({ x, y, z });
    const moves = [
      { kind: 'rapid', to: at(0, 0, -1) },
      { kind: 'feed', to: at(10, 0, -1), feed: 60 },
      { kind: 'feed', to: at(20, 0, -2), feed: 60 },
      { kind: 'feed', to: at(30, 0, -2), feed: 60 },
      { kind: 'feed', to: at(40, 0, -1), feed: 60 },
    ] as const;
    const ramps = { ...step, passes: [{ kind: 'rough' as const, z: -2, web: null, moves }] };
    const rows = handRows(plan, { ...setup, steps: [ramps] }, 'mm').rows;
    expect(rows.map((r) => [r.coming, r.at.x, r.at.z])).toEqual([
      ['enter', 0, -1],
      ['straight', 10, -1],
      ['straight', 20, -1],
      ['plunge', 20, -2],
      ['straight', 30, -2],
      ['plunge', 30, -1],
      ['straight', 40, -1],
    ]);
    // A ramp to enter on becomes one way straight down where it ends.
    const entering = { ...ramps, passes: [{ ...ramps.passes[0]!, moves: [moves[0], moves[2], moves[3]] }] };
    const entered = handRows(plan, { ...setup, steps: [entering] }, 'mm').rows;
    expect(entered.map((r) => [r.coming, r.at.x, r.at.z])).toEqual([
      ['enter', 20, -2],
      ['straight', 30, -2],
    ]);
  });

  test('are refused where a cutter that does not cut at its middle would have to go straight down', () => {
    const cutters = METRIC.cutters.map((c) =>
      c.kind === 'endmill' ? { ...c, plunge: { ...c.plunge, straight: false } } : c,
    );
    const { plan } = planned('shutter-link', { ...METRIC, cutters });
    const table = tableOf(plan, 'mm', METRIC);
    expect(table.findings.map((f) => f.code)).toContain('hand-entry');
    expect(table.findings[0]).toMatchObject({ severity: 'error', setup: 1 });
  });
});

describe('What is measured on the way', () => {
  test('squares to the length whatever was measured, and re-divides the last passes', () => {
    const { part, plan } = planned('vent-latch-lever');
    const found = lengthJobOf(part, plan)!;
    expect(found.job).toMatchObject({ length: 70, sawn: 72, cutter: 12 });
    const cut = secondEnd(found.job, 71.3, 'mm');
    expect(cut.ok && cut.result.final).toBeCloseTo(76, 9);
    const [thin] = thicknessJobsOf(part, plan);
    expect(thin).toMatchObject({ setup: 2, job: { wanted: 2.5, floor: -6.5 } });
    const last = afterRoughing(thin!.job, 2.78, 'mm');
    expect(last.ok && last.result.final).toBeCloseTo(-6.5, 9);
    expect(afterRoughing(thin!.job, 2.3, 'mm').findings[0]?.code).toBe('measured-under-size');
  });

  test('is the thickness that stands at that time: from the underside, or from the face thinned before', () => {
    const { part, plan } = planned('damper-yoke', standardProfile);
    // A body of 4 mm in the middle of 10: first 3 mm come off the front, then 3 mm off the back.
    expect(thicknessJobsOf(part, plan).map((t) => [t.setup, t.job.wanted])).toEqual([
      [1, 7],
      [2, 4],
    ]);
  });
});

describe('Round ends and slanting sides', () => {
  test.each(SAMPLES)('of %s have their stops half a cutter off the edge', (name) => {
    const { part, plan } = planned(name);
    for (const end of roundEndsByHand(part, plan)) {
      expect(end.nibble!.cusp).toBeLessThanOrEqual(0.05 + 1e-9);
      for (const stop of end.nibble!.stops) {
        expect(distance(stop.at, end.edge.centre)).toBeCloseTo(end.edge.radius + end.cutter.diameter / 2, 9);
      }
      const counts = end.choices.map((c) => c.stops);
      expect([...counts].sort((a, b) => a - b)).toEqual(counts);
      expect(end.prefer).toMatch(/^Prefer|^None/);
    }
    for (const arm of armsByHand(part, plan)) {
      for (const side of arm.sides) expect(side.nibble!.cusp).toBeLessThanOrEqual(0.05 + 1e-9);
    }
  });

  test('of a straight link are no slanting sides at all', () => {
    const { part, plan } = planned('shutter-link');
    expect(armsByHand(part, plan)).toEqual([]);
    expect(roundEndsByHand(part, plan).map((e) => e.buttons?.diameter)).toEqual([12, 12]);
  });
});

describe('Sheets as PDF', () => {
  let folder = '';
  let program = '';
  beforeAll(async () => {
    ({ folder, program } = await bundle());
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const make = (name: string, out: string, ...more: string[]): Ran =>
    run(program, [...['make', `samples/${name}.json`, '--out', join(folder, out)], ...more]);

  test('come on A4 and on Letter, from the part’s unit or as asked', () => {
    const size = (out: string, name: string): string =>
      spawnSync('pdfinfo', [join(folder, out, `${name}-sheet.pdf`)], { encoding: 'utf8' }).stdout;
    const mm = make('shutter-link', 'a', '--pdf');
    expect([mm.code, mm.err]).toEqual([0, '']);
    expect(mm.out).toContain('shutter-link-sheet.pdf');
    expect(
      readFileSync(join(folder, 'a', 'shutter-link-sheet.pdf'))
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
    const letter = make('shutter-link', 'b', '--paper', 'letter');
    expect(letter.code).toBe(0);
    const info = size('a', 'shutter-link');
    if (info !== '') {
      expect(info).toMatch(/594\.9\d* x 841\.\d+ pts \(A4\)/);
      expect(size('b', 'shutter-link')).toMatch(/612 x 792 pts \(letter\)/);
    }
  });

  test('are left out with one line where there is no Chromium, and everything else is written', () => {
    const out = mkdtempSync(join(tmpdir(), 'leverwright-'));
    const { status, stdout, stderr } = spawnSync(
      program,
      ['make', 'samples/shutter-link.json', '--out', out, '--pdf'],
      { encoding: 'utf8', env: { ...process.env, CHROMIUM: '/nowhere/chromium' } },
    );
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout.split('\n').filter((l) => l.includes('no PDF'))).toHaveLength(1);
    expect(stdout).toContain('/nowhere/chromium');
    expect(existsSync(join(out, 'shutter-link-sheet.html'))).toBe(true);
    expect(existsSync(join(out, 'shutter-link-sheet.pdf'))).toBe(false);
    rmSync(out, { recursive: true });
    expect(make('shutter-link', 'c', '--paper', 'foolscap').err).toContain('A4 or Letter');
  });

  test('a handwheel machine’s table is proven by figures and dials, and one too coarse is not written', () => {
    const metric = 'samples/machines/metric-handwheel-mill.json';
    const good = make('shutter-link', 'd', '--machine', metric);
    expect([good.code, good.err]).toEqual([0, '']);
    const report = JSON.parse(readFileSync(join(folder, 'd', 'shutter-link-proof.json'), 'utf8'));
    expect(report.table).toMatchObject({ verdict: 'fits', readBy: 'figures and dials', findings: [] });
    const coarse = JSON.parse(readFileSync(metric, 'utf8'));
    for (const axis of ['x', 'y']) coarse.hand[axis].divisions = 20;
    const file = join(folder, 'coarse.json');
    spawnSync('tee', [file], { input: JSON.stringify(coarse) });
    expect(make('shutter-link', 'e', '--machine', metric).code).toBe(0);
    rmSync(join(folder, 'e', 'shutter-link-sheet.html'));
    const bad = make('shutter-link', 'e', '--machine', file);
    expect(bad.code).toBe(1);
    expect(bad.out).toContain('so it is not written');
    // The one from before is still there, and spoken of.
    expect(bad.out).toMatch(/Look: .*shutter-link-table\.csv is from an earlier making/);
    expect(bad.out).not.toMatch(/^ {2}shutter-link-table\.csv$/m);
    expect(readFileSync(join(folder, 'e', 'shutter-link-sheet.html'), 'utf8')).toContain(
      'Do not cut by the tables',
    );
  });
});
