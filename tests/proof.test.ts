import { describe, expect, it } from 'vitest';
import type { ProofFinding } from '../gcode/proof/finding.ts';
import { proofJson } from '../gcode/proof/json.ts';
import { type Proof, type ProofInput, prove } from '../gcode/proof/proof.ts';
import {
  type Alteration,
  backProgram,
  cutters,
  frontHold,
  frontProgram,
  frontSetup,
  plateInput,
} from './proof-plate.ts';

const proveFront = (alteration: Alteration): Proof => prove(plateInput(frontProgram(alteration)));
const codes = (proof: Proof): readonly string[] => proof.findings.map((f) => f.code);
const find = (proof: Proof, code: string): ProofFinding => {
  const found = proof.findings.find((f) => f.code === code);
  expect(found, `${code} among ${codes(proof).join(', ')}`).toBeDefined();
  return found!;
};
const fromEnd = (f: ProofFinding): number => Math.hypot(f.at!.x - 40, f.at!.y - 10);

describe('the good programs', () => {
  it('fit, with nothing to find', () => {
    const proof = prove({ ...plateInput(frontProgram()), cell: 0.1 });
    expect(proof.findings).toEqual([]);
    expect(proof.verdict).toBe('fits');
    expect(proof.gougeMax_mm).toBeLessThan(0.001);
    expect(proof.excessMax_mm).toBeLessThan(0.001);
    expect(proof.resolution_mm).toBe(0.1);
  });

  it('tell the stock in program coordinates, the cutters, the passes and the web each leaves', () => {
    const [first, second] = proveFront({}).setups;
    expect(first!.stock_mm).toEqual({ min: [-1, 0, -6], max: [51, 20, 0] });
    expect(first!.tools.map((t) => [t.number, t.kind, t.diameter_mm])).toEqual([
      [1, 'endmill', 6],
      [2, 'endmill', 5],
      [3, 'drill', 6],
      [4, 'spot', 6],
    ]);
    const end = first!.passes.filter((p) => p.step === 'round end');
    expect(end.map((p) => p.z_mm)).toEqual([-2, -4, -5.2, -6.2]);
    expect(end.map((p) => p.kind)).toEqual(['rough', 'rough', 'rough', 'release']);
    for (const [k, web] of [4, 2, 0.8].entries()) expect(end[k]!.webLeft_mm).toBeCloseTo(web, 4);
    expect(end[3]!.webLeft_mm).toBeNull();
    expect(second!.passes).toEqual([{ step: 'groove', z_mm: -1.5, kind: 'finish', webLeft_mm: null }]);
    expect(second!.stock_mm.min[2]).toBe(-6);
    expect(second!.stock_mm.max[2]).toBeCloseTo(0, 6);
    // 3 × 30 square, 30 land, four rounds of π·13 + 2 + 3, four slots of 12 down and along, spot and drill.
    const expected = 120 + 4 * (Math.PI * 13 + 2 + 3) + (3 + 5 + 6.2 + 7.2) + 4 * 12 + 2 + 9.1;
    expect(first!.cutLength_mm).toBeCloseTo(expected, 6);
    expect(first!.time_s).toBeGreaterThan((expected / 120) * 60 * 0.9);
  });

  it('fit as well without labels, and the passes are found from cutters and levels', () => {
    const proof = prove(plateInput(frontProgram({ labels: false }), backProgram({ labels: false })));
    expect(proof.verdict).toBe('fits');
    expect(proof.findings).toEqual([]);
    expect(proof.setups[0]!.passes.map((p) => p.z_mm)).toEqual([
      -2, -4, -6.2, -2, -4, -5.2, -6.2, -2, -4, -5.2, -6.2, -1, -8.1,
    ]);
    expect(proof.setups[0]!.passes[5]!.webLeft_mm).toBeCloseTo(0.8, 4);
  });
});

describe('a planted fault is found, with its place and its amount', () => {
  it('a wall gouged by 0.03', () => {
    const proof = proveFront({ endRadius: 12.97 });
    const f = find(proof, 'gouge-wall');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.gougeMax_mm).toBeCloseTo(0.03, 3);
    expect(proof.setups[0]!.gougeMax_mm).toBeCloseTo(0.03, 3);
    expect(proof.setups[1]!.gougeMax_mm).toBe(0);
    expect(fromEnd(f)).toBeCloseTo(10, 3);
    expect(f.setup).toBe(1);
    expect(f.message).toContain('0.030 mm');
  });

  it('a floor cut 0.05 too deep', () => {
    const proof = proveFront({ landDepth: 2.05 });
    const f = find(proof, 'gouge-floor');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.gougeMax_mm).toBeCloseTo(0.05, 4);
    expect(f.at!.x).toBeLessThanOrEqual(6);
    expect(f.at!.z).toBeCloseTo(3.95, 4);
  });

  it('a floor in the second setup, cut from the back, 0.04 too deep', () => {
    const proof = prove(plateInput(frontProgram(), backProgram({ grooveDepth: 1.54 })));
    const f = find(proof, 'gouge-floor');
    expect(f.setup).toBe(2);
    expect(proof.setups[1]!.gougeMax_mm).toBeCloseTo(0.04, 4);
    expect(f.at!.x).toBeGreaterThanOrEqual(28);
    expect(f.at!.x).toBeLessThanOrEqual(34);
    expect(f.at!.z).toBeCloseTo(1.54, 4);
  });

  it('a skin of 0.06 on a wall, thinner than a cell of the map', () => {
    const proof = proveFront({ endRadius: 13.06 });
    const f = find(proof, 'wall-excess');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.excessMax_mm).toBeCloseTo(0.06, 3);
    expect(proof.gougeMax_mm).toBe(0);
    expect(fromEnd(f)).toBeCloseTo(10, 3);
    expect(f.setup).toBe(1);
    expect(codes(proof).every((c) => c === 'wall-excess')).toBe(true);
  });

  it('a skin left over part of the height only', () => {
    const proof = proveFront({
      extra: [
        'T1 M6',
        'S1200 M3',
        'G0 X40 Y-5',
        'G0 Z-4.5',
        'G1 Y-3 F100',
        'G3 X40 Y23 I0 J13',
        'G1 Y26',
        'G0 Z20',
      ],
      endRadius: 13.06,
    });
    const f = find(proof, 'wall-excess');
    expect(f.message).toContain('between Z 0.00 and 1.50');
    expect(f.at!.z).toBeLessThan(1.5);
  });

  it('a floor 0.07 too high', () => {
    const proof = proveFront({ landDepth: 1.93 });
    const f = find(proof, 'floor-excess');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.excessMax_mm).toBeCloseTo(0.07, 4);
    expect(f.at!.x).toBeLessThan(6);
    expect(f.at!.z).toBeCloseTo(4, 4);
    expect(f.message).toContain('0.070 mm too high');
    expect(f.message).toMatch(/over about 1[01]\d mm²/);
  });

  it('a floor 0.04 too high is within the tolerance, and is in the figure', () => {
    const proof = proveFront({ landDepth: 1.96 });
    expect(proof.verdict).toBe('fits');
    expect(proof.excessMax_mm).toBeCloseTo(0.04, 4);
  });

  it('exactly as much as is allowed fits, too high or too deep', () => {
    expect(proveFront({ landDepth: 1.95 }).verdict).toBe('fits');
    expect(proveFront({ landDepth: 2.02 }).verdict).toBe('fits');
  });

  it('a rapid through material', () => {
    const proof = proveFront({ clear: -1 });
    const f = find(proof, 'rapid-in-stock');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.setups[0]!.rapidsInStock).toBeGreaterThan(0);
    expect(f.message).toMatch(/line \d+/);
    expect(f.severity).toBe('error');
  });

  it('a rapid down into the work', () => {
    const proof = proveFront({ extra: ['G0 X33 Y10', 'G0 Z-0.5', 'G0 Z20'] });
    const f = find(proof, 'rapid-in-stock');
    expect(proof.setups[0]!.rapidsInStock).toBe(1);
    expect(Math.hypot(f.at!.x - 33, f.at!.y - 10)).toBeLessThan(0.2);
    expect(f.at!.z).toBeCloseTo(5.5, 4);
  });

  it('a jaw hit', () => {
    const proof = proveFront({ extra: ['G0 X15 Y-6', 'G0 Z-4.4', 'G1 Z-5 F60', 'G0 Z20'] });
    const f = find(proof, 'jaw-hit');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.setups[0]!.jawHits).toBe(2);
    expect(f.at!.x).toBeCloseTo(15, 6);
    expect(f.at!.y).toBeLessThan(0);
    expect(f.message).toContain('0.50 mm below');
  });

  it('no jaw hit above the jaws, beside them, or between them', () => {
    expect(codes(proveFront({ extra: ['G0 X15 Y-6', 'G1 Z-4.5 F60', 'G0 Z20'] }))).not.toContain('jaw-hit');
    expect(codes(proveFront({ extra: ['G0 X33.1 Y-6', 'G1 Z-5 F60', 'G0 Z20'] }))).not.toContain('jaw-hit');
    expect(proveFront({}).setups[0]!.jawHits).toBe(0);
  });

  it('jaws that close on work made narrower by an earlier setup reach farther in', () => {
    const input = plateInput(frontProgram());
    const [first, second] = input.setups;
    // Held by the round end with the jaws from 44 to 50: there the work is narrower than the bar.
    const hold = { ...second!.hold, jaws: { from: 44, to: 50 }, parallels: null };
    const text = backProgram({ extra: ['G0 X46 Y3.4', 'G0 Z-3.9', 'G1 Z-4.1 F60', 'G0 Z20'] });
    const proof = prove({ ...input, setups: [first!, { ...second!, hold, text }] });
    const f = find(proof, 'jaw-hit');
    expect(f.setup).toBe(2);
    expect(proof.setups[1]!.jawHits).toBe(2);
    const wide = { ...second!.hold, jaws: { from: 30, to: 50 }, parallels: null };
    const held = prove({ ...input, setups: [first!, { ...second!, hold: wide, text }] });
    expect(held.setups[1]!.jawHits).toBe(0);
    const otherSide = text.replace('Y3.4', 'Y16.6');
    const other = prove({ ...input, setups: [first!, { ...second!, hold, text: otherSide }] });
    expect(other.setups[1]!.jawHits).toBe(2);
  });

  it('a parallel under the slot', () => {
    const input = plateInput(frontProgram());
    const hold = { ...frontHold, parallels: { height: 10, thickness: 3, offset: 2 } };
    const proof = prove({ ...input, setups: [{ ...input.setups[0]!, hold }, input.setups[1]!] });
    const f = find(proof, 'parallel-hit');
    expect(proof.verdict).toBe('does not fit');
    expect(f.message).toContain('0.20 mm');
    expect(f.at!.x).toBeGreaterThan(9);
    expect(f.at!.x).toBeLessThan(27);
  });

  it('a drill that breaks through over a parallel is told the shift that clears it', () => {
    const extra = ['T3 M6', 'S900 M3', 'G0 X16 Y4', 'G0 Z1', 'G1 Z-8.1 F40', 'G0 Z20'];
    const f = find(proveFront({ extra }), 'parallel-hit');
    expect(f.message).toMatch(/Shift that parallel \d+\.\d mm/);
  });

  it('the bed of the vice, and far below the work', () => {
    const proof = proveFront({ extra: ['T2 M6', 'S900 M3', 'G0 X15 Y10', 'G0 Z-17', 'G0 Z20'] });
    find(proof, 'bed-hit');
    expect(find(proof, 'below-work').severity).toBe('note');
  });

  it('an arc whose centre does not fit its ends', () => {
    const text = frontProgram().replace('J13.0000', 'J12.9000');
    const proof = prove(plateInput(text));
    const f = find(proof, 'arc-radius-mismatch');
    expect(proof.verdict).toBe('does not fit');
    expect(f.severity).toBe('error');
    const line = text.split('\n').findIndex((l) => l.includes('J12.9')) + 1;
    expect(f.message).toContain(`Line ${line}`);
  });

  it('a missing releasing pass: the web stands', () => {
    const proof = proveFront({ endLevels: [-2, -4, -5.2] });
    const f = find(proof, 'web-not-released');
    expect(proof.verdict).toBe('does not fit');
    expect(f.message).toContain('0.80 mm');
    expect(fromEnd(f)).toBeGreaterThan(10);
    expect(proof.excessMax_mm).toBeCloseTo(0.8, 4);
    expect(codes(proof)).not.toContain('gouge-wall');
  });

  it('a web thinner than the tolerance still stands', () => {
    const proof = proveFront({ slotLevels: [-2, -4, -5.97] });
    const f = find(proof, 'web-not-released');
    expect(proof.verdict).toBe('does not fit');
    expect(f.message).toContain('0.03 mm');
    expect(f.at!.x).toBeGreaterThan(9.5);
    expect(f.at!.x).toBeLessThan(26.5);
  });

  it('a step left out altogether', () => {
    const slot = proveFront({ without: 'slot' });
    expect(find(slot, 'material-left').at!.x).toBeLessThan(27);
    expect(slot.verdict).toBe('does not fit');
    const square = proveFront({ without: 'square' });
    const f = find(square, 'material-left');
    // The sawn end stands out by the millimetre it was left, not by its height.
    expect(f.at!.x).toBeLessThan(0);
    expect(square.excessMax_mm).toBeGreaterThan(0.85);
    expect(square.excessMax_mm).toBeLessThan(1.001);
    expect(proveFront({ without: 'hole' }).verdict).toBe('does not fit');
    expect(find(proveFront({ without: 'land' }), 'floor-excess').message).toContain('2.000 mm too high');
  });

  it('a setup left out', () => {
    const proof = prove(plateInput(frontProgram(), null));
    const f = find(proof, 'floor-excess');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.excessMax_mm).toBeCloseTo(1.5, 4);
    expect(f.at!.x).toBeGreaterThan(28);
    expect(f.at!.x).toBeLessThan(34);
    expect(f.at!.z).toBeCloseTo(1.5, 4);
  });

  it('a wrong sign of one coordinate', () => {
    const proof = prove(plateInput(frontProgram().replace('X24.0000', 'X-24.0000')));
    const f = find(proof, 'gouge-floor');
    expect(proof.verdict).toBe('does not fit');
    expect(proof.gougeMax_mm).toBeGreaterThan(1.9);
    expect(f.at!.x).toBeLessThan(24);
  });

  it('a standing spindle', () => {
    const proof = proveFront({ spindle: 'S1200 M5' });
    expect(find(proof, 'spindle-stopped-in-cut').severity).toBe('error');
    expect(proof.verdict).toBe('does not fit');
  });

  it('a cutter that is not there', () => {
    const input = plateInput(frontProgram());
    const tools = cutters.filter((c) => c.number !== 2);
    const proof = prove({ ...input, setups: [{ ...input.setups[0]!, tools }, input.setups[1]!] });
    expect(find(proof, 'tool-missing').message).toContain('cutter 2');
    expect(proof.verdict).toBe('does not fit');
  });

  it('no end, or nothing at all', () => {
    expect(find(prove(plateInput(frontProgram().replace('M30', ''))), 'no-end').severity).toBe('error');
    const empty = prove(plateInput(''));
    expect(empty.verdict).toBe('does not fit');
    find(empty, 'no-motion');
    find(empty, 'material-left');
  });

  it('a cut deeper than the flutes, and a shank that rubs on a finished wall', () => {
    const short = (fluteLength: number): Proof => {
      const input = plateInput(frontProgram({ slotLevels: [-6.2] }));
      const tools = cutters.map((c) => (c.number === 2 ? { ...c, fluteLength } : c));
      return prove({ ...input, setups: [{ ...input.setups[0]!, tools }, input.setups[1]!] });
    };
    const proof = short(5);
    expect(find(proof, 'deeper-than-flutes').message).toContain('6.00 mm deep at once');
    expect(find(proof, 'shank-rubs').message).toContain('1.20 mm above');
    expect(codes(short(6.3))).toEqual([]);
  });

  it('the deepest hole in the part drilled a cone short', () => {
    const proof = proveFront({ drillDepth: 7 });
    const f = find(proof, 'web-not-released');
    expect(fromEnd(f)).toBeLessThan(3);
    expect(proof.verdict).toBe('does not fit');
  });

  it('a hole drilled so that its cone just breaks through, not its full diameter', () => {
    // Full diameter ends 0.1 above the back: a ring stands there, 0.1 tan 59° wide at the back face.
    const point = 3 / Math.tan((59 * Math.PI) / 180);
    const proof = proveFront({ drillDepth: 5.9 + point });
    const f = find(proof, 'wall-excess');
    expect(proof.excessMax_mm).toBeCloseTo(0.1 * Math.tan((59 * Math.PI) / 180), 3);
    expect(fromEnd(f)).toBeCloseTo(3, 6);
    expect(f.message).toContain('between Z 0.00 and 0.10');
  });

  it('a hole drilled off its centre by 0.03', () => {
    const proof = proveFront({ holeX: 40.03 });
    expect(proof.gougeMax_mm).toBeCloseTo(0.03, 3);
    expect(Math.abs(fromEnd(find(proof, 'gouge-wall')) - 3)).toBeLessThan(0.01);
  });
});

describe('the report', () => {
  it('is plain finite data with places as [x, y, z]', () => {
    const input: ProofInput = plateInput(frontProgram({ endRadius: 12.9, endLevels: [-2, -4], clear: -1 }));
    const json = proofJson(prove(input));
    const text = JSON.stringify(json);
    expect(JSON.parse(text)).toEqual(json);
    expect(text).not.toContain('null,null');
    for (const f of json.findings) {
      expect(f.message.length).toBeGreaterThan(10);
      if (f.at !== null) expect(f.at.every(Number.isFinite)).toBe(true);
    }
    const numbers = text.match(/-?\d+\.\d+/g) ?? [];
    for (const n of numbers) expect(n.split('.')[1]!.length).toBeLessThanOrEqual(4);
    const first = json.findings[0]!;
    expect(first.severity).toBe('error');
    expect(Object.keys(json.setups[0]!)).toEqual(
      expect.arrayContaining([
        'stock_mm',
        'tools',
        'gougeMax_mm',
        'excessMax_mm',
        'rapidsInStock',
        'jawHits',
      ]),
    );
  });

  it('keeps one setup apart from another', () => {
    const proof = prove({ ...plateInput(frontProgram()), setups: [frontSetup(frontProgram())] });
    expect(proof.setups).toHaveLength(1);
    expect(proof.findings.every((f) => f.setup === 1)).toBe(true);
  });
});
