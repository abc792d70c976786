import type { Finding, Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import type { PassEngagement, Proof } from '../proof/proof.ts';
import { timeText } from '../table/figures.ts';
import { oneLine } from './failure.ts';

const GRAVITY: Readonly<Record<Finding['severity'], string>> = {
  error: 'Wrong',
  warning: 'Look',
  note: 'Note',
};

type Said = Pick<Finding, 'severity' | 'message' | 'setup'>;

/** One finding to a line, gravest first, each said once. */
export const findingLines = (findings: readonly Said[]): readonly string[] => {
  const order = Object.keys(GRAVITY);
  const lines = [...findings]
    .sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity))
    .map((f) => `  ${GRAVITY[f.severity]}: ${placeText(f)}${oneLine(f.message)}`);
  return [...new Set(lines)];
};

/** Which setup it is about, where the sentence itself does not say. */
const placeText = ({ setup, message }: Said): string =>
  setup === undefined || message.startsWith('Setup ') ? '' : `setup ${setup}: `;

/** The proof in a few lines: verdict, the worst figures, and how sharp the proof's own eye is. */
export const proofLines = (name: string, proof: Proof, unit: Unit): readonly string[] => {
  const figure = (mm: number): string => lengthText(mm, unit);
  const time = proof.setups.reduce((sum, s) => sum + s.time_s, 0);
  return [
    `${oneLine(name)}: ${proof.verdict}`,
    `  deepest gouge ${figure(proof.gougeMax_mm)}, most left standing ${figure(proof.excessMax_mm)}; floors seen in cells of ${figure(proof.resolution_mm)}`,
    `  ${count(proof.setups.length, 'setup')}, ${count(sum(proof, 'rapidsInStock'), 'rapid')} through material, ${count(sum(proof, 'jawHits'), 'move')} into the jaws, ${timeText(time)} at the machine`,
  ];
};

/** How far each job step's endmill was buried at most, and where; nothing for those that were not measured. */
export const engagementLines = (proof: Proof): readonly string[] =>
  proof.setups.flatMap((setup) => {
    const most = new Map<string, PassEngagement>();
    for (const { step, engagement } of setup.passes) {
      if (!engagement) continue;
      const worst = most.get(step);
      if (worst === undefined || engagement.most_deg > worst.most_deg) most.set(step, engagement);
    }
    return [...most].map(([step, e]) => {
      const limit = e.limit_deg === null ? '' : `, ${e.limit_deg.toFixed(0)}° stated`;
      return `  setup ${setup.number}: ${oneLine(step)} buries its cutter by ${e.most_deg.toFixed(0)}° of its rim at most${limit}: line ${e.line}`;
    });
  });

const sum = (proof: Proof, key: 'rapidsInStock' | 'jawHits'): number =>
  proof.setups.reduce((total, setup) => total + setup[key], 0);

const count = (n: number, what: string): string => `${n === 0 ? 'no' : n} ${what}${n === 1 ? '' : 's'}`;

export const CAUTION =
  'Before cutting: run it once well above the work, wear eye protection and no gloves, clamp, keep clear of chips, and stop the spindle before measuring. The machine’s manual and local rules come first.';
