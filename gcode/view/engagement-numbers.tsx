import type { Proof, ProofPass } from '../proof/proof.ts';

interface Measured {
  readonly setup: number;
  readonly step: string;
  readonly worst: NonNullable<ProofPass['engagement']>;
}

/** The worst pass of each job step whose engagement was measured. */
const measuredIn = (proof: Proof): readonly Measured[] =>
  proof.setups.flatMap(({ number, passes }) => {
    const steps = new Map<string, Measured>();
    for (const { step, engagement } of passes) {
      if (!engagement) continue;
      const now = steps.get(step);
      if (now && now.worst.most_deg >= engagement.most_deg) continue;
      steps.set(step, { setup: number, step, worst: engagement });
    }
    return [...steps.values()];
  });

/** How much of the cutter's rim the written programs bury, beside what the job steps state. Nothing where none states it. */
export const EngagementNumbers = ({ proof }: { readonly proof: Proof }) => {
  const measured = measuredIn(proof);
  if (measured.length === 0) return null;
  return (
    <section aria-label="How far the cutter is buried">
      <h3>How far the cutter is buried</h3>
      <p class="aside">
        Most of its rim in the material at any moment but the way down, measured from the programs.
      </p>
      <dl class="numbers">
        {measured.map(({ setup, step, worst }) => (
          <>
            <dt key={`${setup}${step}`}>
              {step}, setup {setup}, line {worst.line}
            </dt>
            <dd>
              {worst.most_deg.toFixed(0)}°{worst.limit_deg !== null && ` of ${worst.limit_deg.toFixed(0)}°`}
            </dd>
          </>
        ))}
      </dl>
    </section>
  );
};
