import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PlannedPart, planPart } from '../gcode/chain.ts';
import { solidOf } from '../sketch/part/solid.ts';
import { contourArea } from '../sketch/shape/region.ts';
import { planMemory } from '../toolpath/passes/plan-memory.ts';
import { randomLever } from './random-lever.ts';
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

  it('says the same as planning from nothing to the last bit, whatever changes in whatever lever', () => {
    type Lever = Record<string, unknown> & {
      bar: { thickness: number };
      ends: { radius: number }[];
      holes: { diameter?: number; centre: [number, number] }[];
      forks: { depth: number }[];
      slots: { width: number }[];
      lands: { top: number }[];
    };
    const changes: readonly ((d: Lever, by: number) => void)[] = [
      (d, by) => {
        for (const h of d.holes) if (h.diameter !== undefined) h.diameter += by / 10;
      },
      (d, by) => {
        for (const h of d.holes) h.centre[0] -= by / 8;
      },
      (d, by) => {
        for (const f of d.forks) f.depth -= by / 2;
      },
      (d, by) => {
        for (const s of d.slots) s.width += by / 8;
      },
      (d, by) => {
        for (const l of d.lands) l.top -= by / 16;
      },
      (d, by) => {
        d.ends[1]!.radius += by / 8;
      },
      (d) => {
        d.holes.pop();
      },
      () => {},
    ];
    const edits = fc.array(fc.tuple(fc.nat(changes.length - 1), fc.integer({ min: 1, max: 4 })), {
      minLength: 2,
      maxLength: 3,
    });
    let both = 0;
    fc.assert(
      fc.property(randomLever, edits, (lever, strokes) => {
        const memory = planMemory();
        planPart(JSON.stringify(lever), { memory });
        for (const [change, by] of strokes) {
          const document = structuredClone(lever) as Lever;
          changes[change]!(document, by);
          const text = JSON.stringify(document);
          const [a, b] = [planPart(text, { memory }), planPart(text)];
          expect(a.ok).toBe(b.ok);
          expect(a.findings).toEqual(b.findings);
          if (a.ok && b.ok) {
            both++;
            expect(a.part).toEqual(b.part);
            expect(a.plan).toEqual(b.plan);
          }
        }
      }),
      { numRuns: 5 },
    );
    expect(both).toBeGreaterThan(3);
  });

  it('has the very features and boundaries that an edit leaves alone', () => {
    const memory = planMemory();
    const before = planned(
      yoke(() => {}),
      memory,
    );
    const after = planned(
      yoke((d) => {
        (d.holes as { diameter?: number }[])[0]!.diameter = 4.2;
      }),
      memory,
    );
    expect(after.part.forks[0]).toBe(before.part.forks[0]);
    expect(after.part.holes[1]).toBe(before.part.holes[1]);
    expect(after.part.holes[0]).not.toEqual(before.part.holes[0]);
    // Of each slab all that is not the hole.
    const wallsOf = ({ part }: PlannedPart) =>
      solidOf(part).slabs.map(({ region }) => region.contours.filter((c) => contourArea(c) > 0));
    expect(wallsOf(after).flat().length).toBeGreaterThan(2);
    wallsOf(after).forEach((walls, i) => {
      for (const [k, wall] of walls.entries()) expect(wall).toBe(wallsOf(before)[i]![k]);
    });
    const again = planned(
      yoke((d) => {
        (d.holes as { diameter?: number }[])[0]!.diameter = 4.2;
      }),
      memory,
    );
    expect(again.part).toBe(after.part);
  });

  it('forgets the eldest', () => {
    const memory = planMemory(3);
    planned(sampleText('shutter-link'), memory);
    const { made } = memory.counts;
    planned(sampleText('shutter-link'), memory);
    expect(memory.counts.made).toBe(2 * made);
  });
});
