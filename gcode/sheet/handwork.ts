import { hasErrors } from '../../sketch/part/severity.ts';
import type { PlannedPart } from '../chain.ts';
import { FIT, proofInput } from '../chain.ts';
import { proveByHand, type TableProof } from '../handwork/prove-table.ts';
import type { ProofInput } from '../proof/proof.ts';
import { tableText } from '../table/csv.ts';
import { type Table, tableOf } from '../table/table.ts';

/** A part's table with its text, and what came of doing it by hand. */
export interface Handwork {
  readonly table: Table;
  readonly text: string;
  readonly proof: TableProof;
  /** Whether the table may be handed on: no figure in it is doubtful, and its part fits. */
  readonly sound: boolean;
}

/** The table for the part's own machine, done over row after row. Takes about as long as the proof of the programs. */
export const handworkOf = (
  { part, plan, profile }: PlannedPart,
  tolerance: ProofInput['tolerance'] = FIT,
): Handwork => {
  const table = tableOf(plan, part.unit, profile);
  const text = tableText(table);
  const clear = table.setups.map((setup) => setup.clear);
  const input = { proof: proofInput(part, plan, [], profile, tolerance), text, unit: part.unit, clear };
  const proof = proveByHand(input, table.hand);
  return { table, text, proof, sound: proof.verdict === 'fits' && !hasErrors(table.findings) };
};
