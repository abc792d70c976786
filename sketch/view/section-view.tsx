import { useId } from 'preact/hooks';
import type { SectionPatch } from '../canvas/section.ts';

export interface SectionPicture {
  /** Metal that stands, distances along the line and heights, mm. */
  readonly metal: readonly SectionPatch[];
  /** Of that, the support web, hatched. */
  readonly web: readonly SectionPatch[];
  /** The finished part, drawn thin over it. */
  readonly wanted: readonly SectionPatch[];
  /** What is drawn whole: the line's length and the heights between which the bar lies, mm. */
  readonly length: number;
  readonly low: number;
  readonly high: number;
  /** Heights run downward on the page: the work lies turned over. */
  readonly turned: boolean;
}

interface SectionViewProps {
  readonly picture: SectionPicture;
  readonly width: number;
  readonly height: number;
  readonly label: string;
  /** Small pictures leave out the finished part's lines. */
  readonly small?: boolean;
}

/** How many times heights are drawn larger than lengths, so that a thin web can be seen: a whole number. */
export const heightFactor = (p: SectionPicture, width: number, height: number): number => {
  const across = width / p.length;
  return Math.max(1, Math.min(8, Math.floor(height / ((p.high - p.low) * across))));
};

/** A side section: what stands along a line at one moment, the support web hatched. */
export const SectionView = ({ picture, width, height, label, small }: SectionViewProps) => {
  const id = useId();
  const pad = small ? 3 : 6;
  const k = (width - 2 * pad) / picture.length;
  const kz = k * heightFactor(picture, width - 2 * pad, height - 2 * pad);
  const thick = picture.high - picture.low;
  const top = (height - thick * kz) / 2;
  const box = (p: SectionPatch) => ({
    x: pad + p.from * k,
    y: top + (picture.turned ? p.bottom - picture.low : picture.high - p.top) * kz,
    width: Math.max(0.5, (p.to - p.from) * k),
    height: Math.max(0.5, (p.top - p.bottom) * kz),
  });
  const hatch = small ? 4 : 6;
  return (
    <svg class="section-picture" width={width} height={height} role="img" aria-label={label}>
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
        picture.wanted.map((p) => (
          <rect key={`p${p.from}:${p.bottom}`} class="section-wanted" {...box(p)} />
        ))}
    </svg>
  );
};
