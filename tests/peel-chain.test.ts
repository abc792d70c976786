import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { planPart, provePlan, writePrograms } from '../gcode/chain.ts';
import { sheetHtml } from '../gcode/sheet/sheet.ts';
import { hasErrors } from '../sketch/part/severity.ts';
import { secondProof } from './second-proof.ts';

/** Slots that the file wishes peeled, down the whole chain. */

const yoke = (adjust: object): string => {
  const document = JSON.parse(readFileSync('samples/damper-yoke.json', 'utf8'));
  return JSON.stringify({ ...document, route: { adjust } });
};

test('a fork and a slot that are peeled fit as those do that are cut by laps', () => {
  const made = planPart(
    yoke({
      'fork yoke': { cutter: '5 mm endmill', engagement: 60 },
      'slot adjuster': { cutter: '3 mm endmill', engagement: 70 },
    }),
  );
  if (!made.ok) throw new Error(made.findings[0]?.message);
  expect(made.findings.filter((f) => f.severity === 'error')).toEqual([]);
  const programs = writePrograms(made.part, made.plan, made.profile);
  const proof = provePlan(made.part, made.plan, programs, made.profile);
  expect(proof.findings.filter((f) => f.severity === 'error')).toEqual([]);
  expect(proof.verdict).toBe('fits');
  expect(secondProof(made, programs, 0.05 + proof.resolution_mm).standing).toEqual([]);
  // Loops are there: many short half rounds in the fork's passes.
  const fork = made.plan.setups.flatMap((s) => s.steps).find((s) => s.step.name === 'fork yoke')!;
  const arcs = fork.passes[0]!.moves.filter((m) => m.kind === 'arc').length;
  expect(arcs).toBeGreaterThan(10);
  // On paper: what the feed is raised for.
  const headings = [...sheetHtml(made, null).matchAll(/feed \d+ mm\/min, up to \d+ mm\/min where ([^<]+)/g)];
  const reasons = new Set(headings.map(([, reason]) => reason));
  expect([...reasons].sort()).toEqual([
    'less of the cutter is buried, so that its chips stay as thick',
    'nothing is left to cut',
  ]);
});

test('an angle outside what is sensible is refused with a sentence', () => {
  for (const engagement of [0, -5, 500, 'wide']) {
    const made = planPart(yoke({ 'fork yoke': { engagement } }));
    expect(made.ok && hasErrors(made.findings), String(engagement)).toBe(true);
  }
});
