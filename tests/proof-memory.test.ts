import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PlannedPart, planPart, proofInput, writePrograms } from '../gcode/chain.ts';
import type { ProofInput } from '../gcode/proof/proof.ts';
import { proofMemory } from '../gcode/proof/proof-memory.ts';
import { prove, proveInSteps } from '../gcode/proof/prove.ts';
import { planMemory } from '../toolpath/passes/plan-memory.ts';
import { SAMPLES, sampleText } from './samples.ts';

const plans = planMemory();
const inputOf = (text: string): ProofInput | null => {
  const made = planPart(text, { memory: plans }) as PlannedPart;
  if (!made.ok) return null;
  const { part, plan, profile } = made;
  return proofInput(part, plan, writePrograms(part, plan, profile), profile);
};

/** A figure somewhere in a part's holes, slots or forks made a little other. */
const edited = (text: string, list: string, which: number, key: string, by: number): string => {
  const document = JSON.parse(text);
  const all = document[list] ?? [];
  const item = all[which % Math.max(1, all.length)];
  if (item && typeof item[key] === 'number') item[key] = Math.round((item[key] + by) * 100) / 100;
  return JSON.stringify(document);
};

/** A slip in a program: a figure of one line another, or a line left out. */
const slipped = (input: ProofInput, line: number, by: number): ProofInput => ({
  ...input,
  setups: input.setups.map((setup, k) => {
    if (k !== 0) return setup;
    const lines = setup.text.split('\n');
    const at = line % lines.length;
    lines[at] =
      by > 0
        ? lines[at]!.replace(/([XYZ])(-?[\d.]+)/, (_, w, v) => `${w}${(Number(v) - by).toFixed(3)}`)
        : '';
    return { ...setup, text: lines.join('\n') };
  }),
});

describe('a proof that remembers', () => {
  it('says after random edits and slips just what a proof of its own says', () => {
    const change = fc.record({
      list: fc.constantFrom('holes', 'holes', 'slots', 'forks', 'ends'),
      which: fc.nat(5),
      key: fc.constantFrom('diameter', 'width', 'depth', 'radius'),
      by: fc.constantFrom(-0.4, -0.1, 0.05, 0.1, 0.3),
    });
    const slip = fc.record({ line: fc.nat(2000), by: fc.constantFrom(-1, 0.05, 0.6, 3) });
    fc.assert(
      fc.property(
        fc.constantFrom(...SAMPLES),
        fc.array(fc.tuple(change, fc.option(slip)), { minLength: 2, maxLength: 3 }),
        fc.constantFrom('limited' as const, 'everywhere' as const),
        (sample, changes, engagement) => {
          const memory = proofMemory();
          let text = sampleText(sample);
          for (const [c, s] of changes) {
            const next = edited(text, c.list, c.which, c.key, c.by);
            const made = inputOf(next);
            if (!made) continue;
            text = next;
            const asked: ProofInput = { ...(s ? slipped(made, s.line, s.by) : made), engagement };
            expect(prove(asked, memory)).toEqual(prove(asked));
          }
        },
      ),
      { numRuns: 6, endOnFailure: true },
    );
  });

  it('cuts again only the motions that come near a changed hole, and none when nothing changed', () => {
    const memory = proofMemory();
    const yoke = (bore: number): ProofInput => {
      const document = JSON.parse(sampleText('damper-yoke'));
      document.holes[0].diameter = bore;
      return inputOf(JSON.stringify(document))!;
    };
    prove(yoke(4), memory);
    const { cut: all, looked, reckoned, heard, grown } = memory.counts;
    expect(Math.min(looked, reckoned, heard, grown)).toBeGreaterThan(0);
    expect(memory.counts.known).toBe(0);
    prove(yoke(4), memory);
    // Nor was any cell of the map looked at for pieces or for what is wanted there, nor any wall or obstacle.
    expect(memory.counts).toMatchObject({ cut: all, known: all, looked, reckoned, heard, grown });
    // Nor was any place on a wall judged again.
    expect(memory.counts.places.judged).toBe(0);
    const places = memory.counts.places.known;
    expect(places).toBeGreaterThan(1000);
    const after = prove(yoke(4.2), memory);
    expect(after).toEqual(prove(yoke(4.2)));
    // The wall of the part round the hole at the end of the toe; that of the hole itself is another one now.
    expect(memory.counts.places.judged).toBeGreaterThan(0);
    expect(memory.counts.places.judged).toBeLessThan(0.25 * places);
    // Of the passes that thin the body all round the hole what comes near it, and the hole's own.
    expect(memory.counts.cut - all).toBeLessThan(0.3 * all);
    // The map is looked at about the hole, and what walls hear is asked for the hole's wall and of its passes.
    expect(memory.counts.looked - looked).toBeLessThan(0.15 * looked);
    expect(memory.counts.reckoned - reckoned).toBeLessThan(0.1 * reckoned);
    expect(memory.counts.heard - heard).toBeLessThan(0.5 * heard);
    // What cutters run against elsewhere is the same.
    expect(memory.counts.grown).toBe(grown);
  });

  it('that is given up half way knows afterwards no less than is true', () => {
    const memory = proofMemory();
    const [first, second] = [sampleText('winch-bell-crank'), sampleText('vent-latch-lever')].map(
      (t) => inputOf(t)!,
    );
    prove(first!, memory);
    for (const steps of [1, 3, 5]) {
      const half = proveInSteps(first!, memory);
      for (let k = 0; k < steps; k++) half.next();
      expect(prove(first!, memory)).toEqual(prove(first!));
      expect(prove(second!, memory)).toEqual(prove(second!));
    }
  });
});
