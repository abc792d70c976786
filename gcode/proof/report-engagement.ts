import { mm, type ProofFinding, placeText } from './finding.ts';
import type { ProofPass, ProofSetup } from './proof.ts';

/** Steps of the text and the measure's own half degree are forgiven, degrees. */
export const ENGAGEMENT_SLACK = 5;

/** Job steps whose cutter is buried deeper than they state, the worst pass of each; and those the text does not name. */
export const engagementFindings = (
  setup: ProofSetup,
  passes: readonly ProofPass[],
): readonly ProofFinding[] =>
  (setup.limits ?? []).flatMap(({ step, engagement }): readonly ProofFinding[] => {
    const own = passes.filter((p) => p.step === step);
    const limit = (engagement * 180) / Math.PI;
    if (own.length === 0) {
      return [
        {
          code: 'engagement-not-measured',
          severity: 'warning',
          setup: setup.number,
          feature: step,
          message: `${step} states that its cutter is buried by ${mm(limit, 0)}° at most, but the program names no pass of it: that is not proven. Keep the labels before each pass.`,
        },
      ];
    }
    const over = own.flatMap((p) =>
      p.engagement && p.engagement.most_deg > limit + ENGAGEMENT_SLACK ? [p.engagement] : [],
    );
    if (over.length === 0) return [];
    const worst = over.reduce((a, b) => (b.most_deg > a.most_deg ? b : a));
    const [x, y, z] = worst.at_mm;
    const more = over.length > 1 ? ` (and ${over.length - 1} more passes of it)` : '';
    return [
      {
        code: 'engagement-over-limit',
        severity: 'warning',
        setup: setup.number,
        at: { x, y, z },
        feature: step,
        message: `${step} buries its cutter by ${mm(worst.most_deg, 0)}°, and states ${mm(limit, 0)}° at most: line ${worst.line}, near ${placeText({ x, y })}${more}. Take a smaller cutter, laps closer together, or allow a larger angle.`,
      },
    ];
  });
