import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAll } from '../gcode/chain.ts';
import { randomLever } from './random-lever.ts';
import { SAMPLES, sampleText } from './samples.ts';

/** Random levers tried here; a soak asks for more with LEVERS=2000. */
const LEVERS = Number(process.env.LEVERS ?? 12);

describe('from a part file to programs that are proven', () => {
  test.each(SAMPLES)('%s fits', (name) => {
    const made = makeAll(sampleText(name));
    if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
    expect(made.proof.findings.filter((f) => f.severity === 'error')).toEqual([]);
    expect(made.proof.verdict).toBe('fits');
    // Three decimals of a millimetre in the text, and no more than that in the part.
    expect(made.proof.gougeMax_mm).toBeLessThan(0.002);
    for (const setup of made.proof.setups) {
      expect(setup.rapidsInStock).toBe(0);
      expect(setup.jawHits).toBe(0);
    }
  });

  test('a support web is seen, and then seen to go', () => {
    const made = makeAll(sampleText('vent-latch-lever'));
    if (!made.ok) throw new Error('refused');
    const passes = made.proof.setups.flatMap((s) => s.passes);
    const fork = passes.filter((p) => p.step.includes('fork'));
    const cut = fork.filter((p) => p.kind === 'rough');
    const release = fork.filter((p) => p.kind === 'release');
    expect(cut.at(-1)!.webLeft_mm).toBeCloseTo(1.2, 2);
    expect(release.at(-2)!.webLeft_mm).toBeGreaterThan(0);
    expect(release.at(-1)!.webLeft_mm).toBeNull();
    // The releasing passes are the very last of all.
    expect(passes.at(-1)!.kind).toBe('release');
  });

  test('a crank with sharp inner corners fits: a small cutter gets into them, and no bridge stands there', () => {
    const crank = (third: readonly number[], length: number, width: number): string =>
      JSON.stringify({
        format: 'leverwright-part',
        version: 1,
        name: 'crank',
        unit: 'mm',
        bar: { length, width, thickness: 6, material: 'aluminium' },
        ends: [
          { name: 'hub', centre: [0, 0], radius: 8 },
          { name: 'long', centre: [45, 0], radius: 6 },
          { name: 'short', centre: third, radius: 6 },
        ],
        arms: [
          { from: 'hub', to: 'long' },
          { from: 'hub', to: 'short' },
        ],
      });
    for (const text of [crank([10, 30], 80, 60), crank([0, 34], 80, 50)]) {
      const made = makeAll(text);
      if (!made.ok) throw new Error('refused');
      expect(made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message)).toEqual([]);
      expect(made.proof.findings.map((f) => f.code)).toContain('corner-not-reached');
    }
  });

  test('blind slots are cut from the face they are in', () => {
    const made = makeAll(
      JSON.stringify({
        format: 'leverwright-part',
        version: 1,
        name: 'plate',
        unit: 'mm',
        bar: { length: 81, width: 25, thickness: 6, material: 'aluminium' },
        plates: [
          {
            name: 'plate',
            rectangle: [
              [0, 0],
              [80, 25],
            ],
            cornerRadius: 4,
          },
        ],
        slots: [
          { name: 'front', from: [15, 8], to: [30, 18], width: 6, depth: 2.5 },
          { name: 'back', from: [42, 12], to: [60, 12], width: 8, depth: 3, face: 'back' },
          { name: 'through', from: [72, 10], to: [72, 16], width: 5, face: 'back' },
        ],
      }),
    );
    if (!made.ok) throw new Error('refused');
    expect(made.proof.findings.map((f) => f.message)).toEqual([]);
    const steps = made.proof.setups.map((s) => [...new Set(s.passes.map((p) => p.step))]);
    expect(steps[0]).toEqual(expect.arrayContaining(['slot front', 'slot through']));
    expect(steps[1]).toContain('slot back');
    // What leans on the web of the through slot is done before it goes.
    expect(steps[1]!.at(-1)).toBe('release slot through');
  });

  test.each([
    // Strokes that ended short of the jaws, and laps with cusps between their ends beside them, were taken for all.
    ['35', { length: 100.5, width: 35, thickness: 3.5, corner: [-17.5, -17.5] }, 5.5, [66, 0], 5, 3.5, 2.45],
    ['41', { length: 81.5, width: 41, thickness: 3.5, corner: [-19, -20.5] }, 7, [42, 0], 8.5, 1.75, 0],
    ['35 and 4', { length: 82.5, width: 35, thickness: 4, corner: [-17.5, -17.5] }, 8.5, [52, 0], 4, 2, 0],
    // From the front there is nothing to do.
    ['51', { length: 95.8, width: 51.1, thickness: 3.5, corner: [-17, -17] }, 5, [56.8, 12], 10, 3.5, 1.4],
  ] as const)(
    'a thin lever in a frame of bar as wide as %s mm is cleared up to the jaws',
    (_, bar, big, far, small, top, bottom) => {
      const made = makeAll(
        JSON.stringify({
          format: 'leverwright-part',
          version: 1,
          name: 'framed',
          unit: 'mm',
          bar: { ...bar, material: 'brass' },
          ends: [
            { name: 'big', centre: [0, 0], radius: big },
            { name: 'small', centre: far, radius: small },
          ],
          arms: [{ from: 'big', to: 'small' }],
          lands: [
            {
              name: 'body',
              area: {
                rectangle: [
                  [big + 1, -100],
                  [far[0] - small - 0.5, 100],
                ],
              },
              top,
              bottom,
            },
          ],
        }),
      );
      if (!made.ok) throw new Error(made.findings.map((f) => f.message).join(' '));
      expect(made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message)).toEqual([]);
      expect(made.proof.verdict).toBe('fits');
    },
  );

  test('a finishing lap comes to its start clear of the bridges beside it', () => {
    const made = makeAll(
      JSON.stringify({
        format: 'leverwright-part',
        version: 1,
        name: 'bridged',
        unit: 'mm',
        bar: {
          length: 91,
          width: 39,
          thickness: 6.5,
          material: 'free-cutting steel',
          corner: [-19.5, -19.5],
        },
        ends: [
          { name: 'big', centre: [0, 0], radius: 10.5 },
          { name: 'small', centre: [54, 0], radius: 8.5 },
        ],
        arms: [{ from: 'big', to: 'small' }],
        forks: [
          {
            name: 'fork',
            mouth: [-10.5, 0],
            direction: 0,
            width: 6,
            depth: 13,
            root: 'square',
            cornerRadius: 1.5,
          },
        ],
        slots: [{ name: 'slot', from: [11.45, 0], to: [21.45, 0], width: 3 }],
        lands: [
          {
            name: 'body',
            area: {
              rectangle: [
                [11.5, -100],
                [45, 100],
              ],
            },
            top: 6.5,
            bottom: 3.9,
          },
        ],
      }),
    );
    if (!made.ok) throw new Error('refused');
    expect(made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message)).toEqual([]);
  });

  test('parallels are shifted from under a hole that is drilled through beside the jaws', () => {
    const made = makeAll(
      JSON.stringify({
        format: 'leverwright-part',
        version: 1,
        name: 'tilted',
        unit: 'mm',
        bar: { length: 79, width: 28.2, thickness: 4, material: 'brass', corner: [-11, -11] },
        ends: [
          { name: 'big', centre: [0, 0], radius: 11 },
          { name: 'small', centre: [64.5, 13.7], radius: 3.5 },
        ],
        arms: [{ from: 'big', to: 'small' }],
        holes: [{ name: 'pin', purpose: 'clearance', centre: [64.5, 13.7], diameter: 3.2 }],
      }),
    );
    if (!made.ok) throw new Error('refused');
    expect(made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message)).toEqual([]);
  });

  test('any lever is either refused with a reason or fits', () => {
    fc.assert(
      fc.property(randomLever, (document) => {
        const made = makeAll(JSON.stringify(document));
        if (!made.ok) {
          expect(made.findings.some((f) => f.severity === 'error' && f.message.length > 20)).toBe(true);
          return;
        }
        expect(made.proof.findings.filter((f) => f.severity === 'error').map((f) => f.message)).toEqual([]);
        expect(made.proof.verdict).toBe('fits');
      }),
      { numRuns: LEVERS },
    );
  });
});
