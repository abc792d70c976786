import type { PassEngagement, Proof, ProofPass, ProofSetupReport } from './proof.ts';

/** The proof as it is written to a file: places as [x, y, z], figures rounded to a ten-thousandth of a mm. */
export interface ProofJson {
  readonly verdict: Proof['verdict'];
  readonly gougeMax_mm: number;
  readonly excessMax_mm: number;
  readonly resolution_mm: number;
  readonly findings: readonly {
    readonly code: string;
    readonly message: string;
    readonly severity: string;
    readonly setup: number | null;
    readonly at: readonly [number, number, number] | null;
    readonly feature?: string;
  }[];
  readonly setups: readonly ProofSetupReport[];
}

const round = (value: number, decimals = 4): number => {
  if (!Number.isFinite(value)) return 0;
  const k = 10 ** decimals;
  return Math.round(value * k) / k + 0;
};

const point = (p: readonly [number, number, number]): readonly [number, number, number] => [
  round(p[0]),
  round(p[1]),
  round(p[2]),
];

const rim = (e: PassEngagement): PassEngagement => ({
  most_deg: round(e.most_deg, 1),
  entry_deg: round(e.entry_deg, 1),
  at_mm: point(e.at_mm),
  line: e.line,
  limit_deg: e.limit_deg === null ? null : round(e.limit_deg, 1),
});

const pass = (p: ProofPass): ProofPass => ({
  ...p,
  ...(p.engagement ? { engagement: rim(p.engagement) } : {}),
  z_mm: round(p.z_mm),
  webLeft_mm: p.webLeft_mm === null ? null : round(p.webLeft_mm),
});

export const proofJson = (proof: Proof): ProofJson => ({
  verdict: proof.verdict,
  gougeMax_mm: round(proof.gougeMax_mm),
  excessMax_mm: round(proof.excessMax_mm),
  resolution_mm: round(proof.resolution_mm),
  findings: proof.findings.map((f) => ({
    code: f.code,
    message: f.message,
    severity: f.severity,
    setup: f.setup ?? null,
    at: f.at === undefined ? null : point([f.at.x, f.at.y, f.at.z]),
    ...(f.feature === undefined || f.feature === '' ? {} : { feature: f.feature }),
  })),
  setups: proof.setups.map((s) => ({
    ...s,
    stock_mm: { min: point(s.stock_mm.min), max: point(s.stock_mm.max) },
    gougeMax_mm: round(s.gougeMax_mm),
    excessMax_mm: round(s.excessMax_mm),
    cutLength_mm: round(s.cutLength_mm, 2),
    rapidLength_mm: round(s.rapidLength_mm, 2),
    time_s: round(s.time_s, 1),
    passes: s.passes.map(pass),
  })),
});
