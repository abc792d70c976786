import type { Finding } from '../../sketch/part/part.ts';

/** Findings as they stand under the sentence they belong to. */
export const FindingNotes = ({ findings }: { readonly findings: readonly Finding[] }) => (
  <>
    {findings.map((f) => (
      <p
        key={`${f.code}${f.message}`}
        class={
          f.severity === 'note' ? 'remark' : f.severity === 'warning' ? 'remark remark-warning' : 'wrong'
        }
        data-code={f.code}
      >
        {f.message}
      </p>
    ))}
  </>
);
