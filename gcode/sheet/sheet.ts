import type { PlannedPart } from '../chain.ts';
import type { Proof } from '../proof/proof.ts';

export const sheetHtml = (planned: PlannedPart, _extra: { readonly proof: Proof }): string => planned.part.name;
