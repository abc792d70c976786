import type { Part } from '../part/part.ts';
import { MM_PER_INCH } from '../part/units.ts';
import type { Json } from './json.ts';

/** The lists of features in a part file, in the order they are written down. */
export const FEATURE_KINDS = ['ends', 'arms', 'plates', 'holes', 'slots', 'forks', 'lands'] as const;
export type FeatureKind = (typeof FEATURE_KINDS)[number];

export const KIND_WORDS: Readonly<Record<FeatureKind, { one: string; many: string }>> = {
  ends: { one: 'end', many: 'Ends' },
  arms: { one: 'arm', many: 'Arms' },
  plates: { one: 'plate', many: 'Plates' },
  holes: { one: 'hole', many: 'Holes' },
  slots: { one: 'slot', many: 'Slots' },
  forks: { one: 'fork', many: 'Forks' },
  lands: { one: 'land', many: 'Lands' },
};

/** A feature to begin from, near the part's middle and of a size that is likely to be sound. */
export const newFeature = (kind: FeatureKind, part: Part): Json => {
  const k = part.unit === 'mm' ? 1 : 1 / MM_PER_INCH;
  const round = (v: number): number => Number((v * k).toFixed(part.unit === 'mm' ? 2 : 4));
  const b = part.bar;
  const place = (x: number, y: number): Json => [round(x), round(y)];
  const first = part.ends[0]?.centre ?? { x: b.corner.x + b.length / 2, y: b.corner.y + b.width / 2 };
  const last = part.ends.at(-1)?.centre ?? first;
  const x = (first.x + last.x) / 2;
  const y = (first.y + last.y) / 2;
  const name = freshName(KIND_WORDS[kind].one, part);
  switch (kind) {
    case 'ends':
      return { name, centre: place(x, y), radius: round(b.width / 4) };
    case 'arms':
      return { name, from: part.ends[0]?.name ?? '', to: part.ends.at(-1)?.name ?? '' };
    case 'plates':
      return { name, rectangle: [place(x - 3, y - 3), place(x + 3, y + 3)], cornerRadius: round(1) };
    case 'holes':
      return { name, purpose: 'clearance', centre: place(x, y), diameter: round(2) };
    case 'slots':
      return { name, from: place(x - 2, y), to: place(x + 2, y), width: round(2) };
    case 'forks':
      return {
        name,
        mouth: place(b.corner.x, y),
        direction: 0,
        width: round(b.width / 4),
        depth: round(b.width / 2),
      };
    case 'lands':
      return {
        name,
        area: { disc: { centre: place(x, y), radius: round(b.width / 4) } },
        top: round(b.thickness * 0.9),
      };
  }
};

/** A name of this kind that nothing in the part has yet. */
export const freshName = (word: string, part: Part): string => {
  const taken = new Set(
    [part.ends, part.arms, part.plates, part.holes, part.slots, part.forks, part.lands].flatMap((list) =>
      list.map((f) => f.name),
    ),
  );
  for (let n = 1; ; n++) if (!taken.has(`${word} ${n}`)) return `${word} ${n}`;
};
