import { toScreen } from '../../sketch/canvas/camera.ts';
import type { Sheet } from '../../sketch/canvas/sheet.ts';
import type { Proof } from '../proof/proof.ts';
import { pickedFinding } from './picking.ts';

/** The proof's findings as numbered marks on the part; a mark and its sentence pick each other. */
export const FindingMarks = ({ sheet, proof }: { readonly sheet: Sheet; readonly proof: Proof }) => (
  <>
    {proof.findings.map((f, i) => {
      if (!f.at) return null;
      const at = toScreen(sheet.camera.value, sheet.viewport.value, f.at);
      return (
        <button
          key={`${f.code}${f.message}`}
          type="button"
          class={`finding-mark finding-mark-${f.severity}${pickedFinding.value === i ? ' picked' : ''}`}
          style={{ left: `${at.x}px`, top: `${at.y}px` }}
          aria-label={`Finding ${i + 1}: ${f.message}`}
          aria-pressed={pickedFinding.value === i}
          data-mark={i}
          onClick={() => {
            pickedFinding.value = i;
          }}
        >
          {i + 1}
        </button>
      );
    })}
  </>
);
