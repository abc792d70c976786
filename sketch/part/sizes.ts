import { quoted } from './names.ts';
import type { Finding, Part } from './part.ts';
import { lengthText } from './units.ts';

/** Nothing on a bench machine is larger than this, mm. */
export const LARGEST = 2000;
/** Nothing that is milled is smaller than this, mm. */
export const SMALLEST = 0.01;
/** More features than this is a slip of the pen, not a lever. */
export const MOST_FEATURES = 500;

/**
 * Sizes that no part can have: not positive, not finite, beyond two metres; names that stand twice; too many features.
 * A part that passes can be drawn without harm, though it may still be impossible to make (`checkPart`).
 */
export const sizeFindings = (part: Part): readonly Finding[] => {
  const findings: Finding[] = [];
  const report = (code: string, message: string, feature?: string): void => {
    findings.push({ code, message, severity: 'error', ...(feature === undefined ? {} : { feature }) });
  };
  const owner = (feature: string | undefined): string =>
    feature === undefined ? '' : ` of ${quoted(feature)}`;
  const amount = (mm: number): string => lengthText(mm, part.unit);

  const bounded = (value: number, what: string, feature?: string): boolean => {
    if (!Number.isFinite(value)) {
      report('size-not-finite', `The ${what}${owner(feature)} is not a finite number.`, feature);
      return false;
    }
    if (Math.abs(value) > LARGEST) {
      report(
        'size-too-large',
        `The ${what}${owner(feature)} is ${amount(value)}: nothing beyond ${amount(LARGEST)} is accepted.`,
        feature,
      );
      return false;
    }
    return true;
  };
  const positive = (value: number, what: string, feature?: string): void => {
    if (bounded(value, what, feature) && value < SMALLEST) {
      report(
        'size-not-positive',
        `The ${what}${owner(feature)} is ${amount(value)}: it must be at least ${amount(SMALLEST)}.`,
        feature,
      );
    }
  };
  const notNegative = (value: number, what: string, feature?: string): void => {
    if (bounded(value, what, feature) && value < 0) {
      report(
        'size-negative',
        `The ${what}${owner(feature)} is ${amount(value)}: it cannot be negative.`,
        feature,
      );
    }
  };
  const place = (p: { x: number; y: number }, what: string, feature?: string): void => {
    if (bounded(p.x, `${what} in x`, feature)) bounded(p.y, `${what} in y`, feature);
  };
  const polygon = (
    shape: Pick<Part['plates'][number], 'corners' | 'cornerRadius'>,
    feature: string,
  ): void => {
    shape.corners.forEach((c, i) => {
      place(c, `corner ${i + 1}`, feature);
    });
    notNegative(shape.cornerRadius, 'corner radius', feature);
  };

  positive(part.bar.length, 'bar’s length');
  positive(part.bar.width, 'bar’s width');
  positive(part.bar.thickness, 'bar’s thickness');
  notNegative(part.bar.sawn, 'sawn allowance');
  place(part.bar.corner, 'bar’s corner');
  notNegative(part.leastWall, 'least wall');
  if (part.insideRadius !== undefined) notNegative(part.insideRadius, 'inside radius');
  for (const end of part.ends) {
    place(end.centre, 'centre', end.name);
    positive(end.radius, 'radius', end.name);
  }
  for (const plate of part.plates) polygon(plate, plate.name);
  for (const hole of part.holes) {
    place(hole.centre, 'centre', hole.name);
    positive(hole.diameter, hole.purpose === 'tapped' ? 'tap drill' : 'diameter', hole.name);
    if (hole.depth !== null) positive(hole.depth, 'depth', hole.name);
    if (hole.purpose === 'counterbored') {
      positive(hole.boreDiameter, 'bore diameter', hole.name);
      positive(hole.boreDepth, 'bore depth', hole.name);
    }
  }
  for (const slot of part.slots) {
    place(slot.from, 'first centre', slot.name);
    place(slot.to, 'second centre', slot.name);
    positive(slot.width, 'width', slot.name);
    if (slot.depth !== null) positive(slot.depth, 'depth', slot.name);
  }
  for (const fork of part.forks) {
    place(fork.mouth, 'mouth', fork.name);
    positive(fork.width, 'width', fork.name);
    positive(fork.depth, 'depth', fork.name);
    if (!Number.isFinite(fork.direction)) {
      report('size-not-finite', `The direction of ${quoted(fork.name)} is not a finite number.`, fork.name);
    }
    if (fork.root.kind === 'square') notNegative(fork.root.cornerRadius, 'corner radius', fork.name);
  }
  for (const land of part.lands) {
    bounded(land.top, 'top', land.name);
    bounded(land.bottom, 'bottom', land.name);
    if (land.shape.kind === 'disc') {
      place(land.shape.centre, 'centre', land.name);
      positive(land.shape.radius, 'radius', land.name);
    }
    if (land.shape.kind === 'polygon') polygon(land.shape, land.name);
  }
  return [...findings, ...nameFindings(part)];
};

/** Names that stand twice, and too many features. One name serves one thing, since findings and routes speak by name. */
const nameFindings = (part: Part): readonly Finding[] => {
  const named = [
    ...part.ends.map((f) => ['end', f.name] as const),
    ...part.arms.map((f) => ['arm', f.name] as const),
    ...part.plates.map((f) => ['plate', f.name] as const),
    ...part.holes.map((f) => ['hole', f.name] as const),
    ...part.slots.map((f) => ['slot', f.name] as const),
    ...part.forks.map((f) => ['fork', f.name] as const),
    ...part.lands.map((f) => ['land', f.name] as const),
  ];
  if (named.length > MOST_FEATURES) {
    return [
      {
        code: 'too-many-features',
        message: `The part has ${named.length} features: no more than ${MOST_FEATURES} are accepted.`,
        severity: 'error',
      },
    ];
  }
  const first = new Map<string, string>();
  const findings: Finding[] = [];
  for (const [kind, name] of named) {
    const other = first.get(name);
    if (other === undefined) first.set(name, kind);
    else {
      findings.push({
        code: 'name-twice',
        message:
          `The name ${quoted(name)} stands twice, for ${article(other)} and ${article(kind)}: ` +
          'give each its own, since the route and the messages speak by name.',
        severity: 'error',
        feature: name,
      });
    }
  }
  return findings;
};

const article = (kind: string): string => `${/^[aeiou]/.test(kind) ? 'an' : 'a'} ${kind}`;
