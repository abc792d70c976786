import { type Framed, framed, keepClear } from './framed.ts';
import { type Contour, windingOfContour } from './region.ts';

/** The two sides of boolean work. */
export type Role = 'subject' | 'clipping';

/** How often each side winds round some place. */
export type Windings = Readonly<Record<Role, number>>;

/** Contours that come near one another, and nowhere near any other. */
export interface Cluster {
  readonly subject: readonly Contour[];
  readonly clipping: readonly Contour[];
  /**
   * How often all other contours wind round these: the same all along them, for none passes between two contours that
   * are nearer to each other than it is to either.
   */
  readonly about: Windings;
}

interface Member {
  readonly frame: Framed;
  readonly role: Role;
}

/** The contours of both sides parted into what lies at least so far apart, mm; where nothing is said, what the image tells apart. */
export const clustersOf = (
  subject: readonly Contour[],
  clipping: readonly Contour[],
  least?: number,
): readonly Cluster[] => {
  const memberOf = (role: Role) => (contour: Contour) => ({ frame: framed(contour), role });
  const members = [...subject.map(memberOf('subject')), ...clipping.map(memberOf('clipping'))];
  const groups = groupsOf(members, least);
  return groups.map((group) => ({
    subject: group.filter((m) => m.role === 'subject').map((m) => m.frame.contour),
    clipping: group.filter((m) => m.role === 'clipping').map((m) => m.frame.contour),
    about: windingsAbout(group, groups),
  }));
};

const groupsOf = (members: readonly Member[], least?: number): readonly (readonly Member[])[] => {
  const group = members.map((_, i) => i);
  for (let i = 1; i < members.length; i++) {
    for (let j = 0; j < i; j++) {
      const [a, b] = [group[i]!, group[j]!];
      if (a === b || keepClear(members[i]!.frame, members[j]!.frame, least)) continue;
      for (let k = 0; k <= i; k++) if (group[k] === a) group[k] = b;
    }
  }
  const groups = new Map<number, Member[]>();
  for (const [i, member] of members.entries()) {
    const there = groups.get(group[i]!);
    if (there) there.push(member);
    else groups.set(group[i]!, [member]);
  }
  return [...groups.values()];
};

const windingsAbout = (group: readonly Member[], groups: readonly (readonly Member[])[]): Windings => {
  const about = { subject: 0, clipping: 0 };
  const { x, y } = group[0]!.frame.contour.segments[0]!.from;
  for (const other of groups) {
    if (other === group) continue;
    for (const { frame, role } of other) {
      const { min, max } = frame.box;
      if (x < min.x || x > max.x || y < min.y || y > max.y) continue;
      about[role] += windingOfContour(frame.contour, { x, y });
    }
  }
  return about;
};
