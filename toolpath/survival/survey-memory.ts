import type { SurveyPass } from './force-survey.ts';
import type { Seat } from './grip.ts';
import type { PassSurvival, SurvivalQuestion, SurvivalSetup, SurvivalTerms } from './pass-survival.ts';
import type { SurveyPlace } from './solve-pass.ts';
import type { Squeezed } from './squeeze.ts';

/** One pass by closed forms, with the places that are to be solved. */
export interface Look {
  readonly quick: PassSurvival;
  readonly setup: SurvivalSetup | undefined;
  readonly jaws: Seat | null;
  readonly places: readonly SurveyPlace[];
}

/** What has been found out of the stock as it is before the first pass of a route, or after one of its passes. */
export interface Moment {
  look?: Look;
  solved?: PassSurvival;
  /** What jaws make of it, by how the setup holds it. */
  readonly squeezed: Map<string, Squeezed | null>;
}

/**
 * What the passes of one part came to. Ways of making it mostly begin alike, and passes that are alike, after passes that
 * are alike, held alike, move alike: only where two ways part is there anything new to work out. Nothing is ever taken for
 * like that differs in any figure. Good for one part, with its material; grows with the ways that are looked at.
 */
export interface SurveyMemory {
  /** The moments of a route: before its first pass, and after each. They grow in place. */
  readonly along: (question: SurvivalQuestion, terms: SurvivalTerms) => readonly Moment[];
}

interface Node extends Moment {
  readonly next: Map<string, Node>;
}

const newNode = (): Node => ({ squeezed: new Map(), next: new Map() });

export const surveyMemory = (): SurveyMemory => {
  const start = newNode();
  const after = (node: Node, key: string): Node => {
    const known = node.next.get(key);
    if (known !== undefined) return known;
    const made = newNode();
    node.next.set(key, made);
    return made;
  };
  return {
    along: ({ bar, setups, passes }, terms) => {
      let node = after(start, JSON.stringify([bar, figuresOf(terms)]));
      const moments: Moment[] = [node];
      for (const pass of passes) {
        node = after(node, keyOf(pass, setups));
        moments.push(node);
      }
      return moments;
    },
  };
};

/** The terms that figures go by; which passes are solved is no matter. */
const figuresOf = ({ clamp, friction, elastic, cutting, cell, brick, places, frequency }: SurvivalTerms) => ({
  ...{ clamp, friction, elastic, cutting, cell, brick, places, frequency },
});

const keyOf = (pass: SurveyPass, setups: readonly SurvivalSetup[]): string =>
  JSON.stringify([setups.find((s) => s.number === pass.setup), pass]);
