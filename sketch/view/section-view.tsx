import { useId } from 'preact/hooks';
import { outlineOfPatches, type SectionLine, type SectionPatch } from '../canvas/section.ts';

export interface SectionPicture {
  /** Metal that stands, distances along the line and heights, mm. */
  readonly metal: readonly SectionPatch[];
  /** Of that, the support web, hatched. */
  readonly web: readonly SectionPatch[];
  /** The finished part, drawn thin over it. */
  readonly wanted: readonly SectionPatch[];
  /** Its threads' outsides. */
  readonly threads: readonly SectionLine[];
  /** What is drawn whole: the line's length and the heights between which the bar lies, mm. */
  readonly length: number;
  readonly low: number;
  readonly high: number;
  /** Heights run downward on the page: the work lies turned over. */
  readonly turned: boolean;
}

interface SectionViewProps {
  readonly picture: SectionPicture;
  /** Where the line's start lies and pixels per mm, to stand under a plan; fitted to the width when left out. */
  readonly under?: { readonly left: number; readonly scale: number } | null;
  readonly width: number;
  readonly height: number;
  readonly label: string;
  /** Small pictures leave out the finished part's lines. */
  readonly small?: boolean;
}

/** How many times heights are drawn larger than lengths, so that a thin web can be seen: a whole number. */
export const heightFactor = (p: SectionPicture, scale: number, height: number): number =>
  Math.max(1, Math.min(8, Math.floor(height / ((p.high - p.low) * scale))));

/** Pixels per mm at which a section fits a space, lengths and heights alike. */
export const fittingScale = (p: SectionPicture, width: number, height: number): number =>
  Math.min(width / p.length, height / (p.high - p.low));

/**
 * A side section: what stands along a line at one moment, the support web hatched. One that is told in words beside it
 * has no label of its own, and is passed over.
 */
export const SectionView = ({ picture, under, width, height, label, small }: SectionViewProps) => {
  const id = useId();
  const pad = small ? 3 : 6;
  const k = under?.scale ?? fittingScale(picture, width - 2 * pad, height - 2 * pad);
  const kz = k * heightFactor(picture, k, height - 2 * pad);
  const left = under?.left ?? (width - picture.length * k) / 2;
  const thick = picture.high - picture.low;
  const top = (height - thick * kz) / 2;
  const place = (p: { s: number; z: number }) => ({
    x: left + p.s * k,
    y: top + (picture.turned ? p.z - picture.low : picture.high - p.z) * kz,
  });
  const box = (p: SectionPatch) => ({
    ...place({ s: p.from, z: picture.turned ? p.bottom : p.top }),
    width: Math.max(0.5, (p.to - p.from) * k),
    height: Math.max(0.5, (p.top - p.bottom) * kz),
  });
  const hatch = small ? 4 : 6;
  return (
    <svg
      class="section-picture"
      width={Math.max(0, width)}
      height={height}
      role="img"
      aria-label={label}
      aria-hidden={label === ''}
    >
      <defs>
        <pattern
          id={`${id}-hatch`}
          width={hatch}
          height={hatch}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line x1="0" y1="0" x2="0" y2={hatch} class="hatch" />
        </pattern>
      </defs>
      {picture.metal.map((p) => (
        <rect key={`m${p.from}:${p.bottom}`} class="section-metal" {...box(p)} />
      ))}
      {picture.web.map((p) => (
        <g key={`w${p.from}:${p.bottom}`} data-web={(p.top - p.bottom).toFixed(2)}>
          <rect class="section-web" {...box(p)} />
          <rect {...box(p)} fill={`url(#${id}-hatch)`} />
        </g>
      ))}
      {!small &&
        [...outlineOfPatches(picture.wanted), ...picture.threads].map((l) => {
          const a = place(l.from);
          const b = place(l.to);
          return (
            <line
              key={`${a.x},${a.y},${b.x},${b.y}`}
              class={picture.threads.includes(l) ? 'section-thread' : 'section-wanted'}
              x1={a.x}
              y1={a.y}
              x2={b.x}
              y2={b.y}
            />
          );
        })}
    </svg>
  );
};
