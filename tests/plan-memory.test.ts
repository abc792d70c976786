import { describe, expect, it } from 'vitest';
import { type PlannedPart, planPart } from '../gcode/chain.ts';
import { planMemory } from '../toolpath/passes/plan-memory.ts';
import { SAMPLES, sampleText } from './samples.ts';

const planned = (text: string, memory = planMemory()): PlannedPart => {
  const made = planPart(text, { memory });
  if (!made.ok) throw new Error(made.findings[0]?.message);
  return made;
};

/** The largest sample with something changed in its file. */
const yoke = (change: (document: Record<string, never[]>) => void): string => {
  const document = JSON.parse(sampleText('damper-yoke'));
  change(document);
  return JSON.stringify(document);
};

const stepsIn = (made: PlannedPart): number =>
  made.plan.setups.reduce((sum, { steps }) => sum + steps.length, 0);

describe('a memory of job steps', () => {
  it('plans what is the same once, and says the same of it', () => {
    for (const name of SAMPLES) {
      const memory = planMemory();
      const first = planned(sampleText(name), memory);
      const { made } = memory.counts;
      expect(made).toBeGreaterThanOrEqual(stepsIn(first));
      const second = planned(sampleText(name), memory);
      expect(memory.counts).toEqual({ made, recalled: made });
      expect(second.plan).toEqual(first.plan);
      const alone = planPart(sampleText(name));
      expect(alone.ok && alone.plan).toEqual(first.plan);
    }
  });

  it('plans anew only what a hole whose size changes is made by', () => {
    const memory = planMemory();
    const before = planned(
      yoke(() => {}),
      memory,
    );
    const { made } = memory.counts;
    const last = before.part.holes.find((h) => h.name === 'toe bush')!;
    const wider = yoke((d) => {
      for (const hole of d.holes as { name: string; diameter?: number }[]) {
        if (hole.name === last.name) hole.diameter = 4.2;
      }
    });
    const after = planned(wider, memory);
    // What comes before the hole is taken over, and so is what clears round it or cuts elsewhere.
    const names = after.route.setups.flatMap((s) => s.steps.map((step) => step.name));
    expect(names).toHaveLength(14);
    // Spot, drill, counterbore, and the tap that comes after them.
    expect(memory.counts.made - made).toBe(4);
    expect(memory.counts.recalled).toBe(names.length - 4);
    const passesOf = (p: PlannedPart, name: string) =>
      p.plan.setups.flatMap((s) => s.steps).find((s) => s.step.name === name)!.passes;
    for (const name of ['outline', 'thin body from the back', 'release fork yoke'])
      expect(passesOf(after, name)).toBe(passesOf(before, name));
    expect(passesOf(after, 'drill 4.2')).toHaveLength(1);
    expect(passesOf(after, 'counterbore toe bush')).not.toBe(passesOf(before, 'counterbore toe bush'));
    const alone = planPart(wider);
    expect(alone.ok && alone.plan).toEqual(after.plan);
  });

  it('says the same as planning from nothing after any of many edits', () => {
    const memory = planMemory();
    const edits = [
      yoke(() => {}),
      yoke((d) => {
        (d.bar as unknown as { thickness: number }).thickness = 11;
      }),
      yoke((d) => {
        d.holes?.pop();
      }),
      yoke((d) => {
        d.lands?.pop();
      }),
      yoke((d) => {
        d.forks?.pop();
      }),
      yoke((d) => {
        (d.route as unknown) = { setups: { '1': { grip: 2.1 } } };
      }),
      yoke(() => {}),
    ];
    for (const text of edits) {
      const [a, b] = [planPart(text, { memory }), planPart(text)];
      expect(a.ok).toBe(b.ok);
      if (a.ok && b.ok) {
        expect(a.plan).toEqual(b.plan);
        expect(a.findings).toEqual(b.findings);
      }
    }
    expect(memory.counts.recalled).toBeGreaterThan(20);
  });

  it('forgets the eldest', () => {
    const memory = planMemory(3);
    planned(sampleText('shutter-link'), memory);
    const { made } = memory.counts;
    planned(sampleText('shutter-link'), memory);
    expect(memory.counts.made).toBe(2 * made);
  });
});
