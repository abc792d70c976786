import { render } from 'preact';
import { fitBox, type Viewport } from '../../sketch/canvas/camera.ts';
import { type PlacedDimension, placedDimensions } from '../../sketch/canvas/draw-dimensions.ts';
import type { Drawing } from '../../sketch/canvas/draw-part.ts';
import { LETTER } from '../../sketch/canvas/patch.ts';
import { sideMarksOf } from '../../sketch/part/side-marks.ts';
import { sideViewOf } from '../../sketch/part/side-view.ts';
import { type Point, polar } from '../../sketch/shape/point.ts';
import { projection, sideOf } from '../../sketch/view/second-view-choice.tsx';
import { SidePicture } from '../../sketch/view/side-picture.tsx';
import { centreLinesOf } from '../sheet/centre-lines.ts';
import { threadsOf } from '../sheet/part-svg.ts';
import { chainPath } from '../sheet/svg.ts';

/** The paper's space for the plan, in the pixels of a page across. */
const PAPER: Viewport = {
  width: 1040,
  height: 460,
  covered: { left: 10, top: 10, right: 10, bottom: 10 },
};
const BELOW = 150;

/**
 * When the page itself is printed, and no sheet of the setups is, the paper bears the part's drawing: plan and edge
 * view with all their measures, as lines and not as pixels.
 */
export const printDrawing = (drawing: { readonly value: Drawing | null }): void => {
  const paper = document.createElement('div');
  paper.className = 'print-drawing';
  window.addEventListener('beforeprint', () => {
    if (!drawing.value || document.querySelector('.print-sheet')) return;
    document.body.append(paper);
    render(<Page drawing={drawing.value} />, paper);
  });
  window.addEventListener('afterprint', () => {
    render(null, paper);
    paper.remove();
  });
};

const Page = ({ drawing }: { readonly drawing: Drawing }) => {
  const { part, outline, solid, front } = drawing;
  const { bar } = part;
  const far = { x: bar.corner.x + bar.length, y: bar.corner.y + bar.width };
  const camera = fitBox({ min: bar.corner, max: far }, PAPER, false, bar.corner.y + bar.width / 2);
  const { scale, centre } = camera;
  // The builders of paths turn Y; what is left is a scale and a shift.
  const left = PAPER.width / 2 - centre.x * scale;
  const place = `matrix(${scale} 0 0 ${scale} ${left} ${PAPER.height / 2 + centre.y * scale})`;
  const side = sideOf('edge', projection.value);
  const fits = bar.thickness * scale <= BELOW - 12;
  const u = part.unit === 'mm' ? 'mm' : 'inches';
  return (
    <>
      <h1>{part.name}</h1>
      <p>
        Figures in {u}; {bar.material}. {projection.value === 'third angle' ? 'Third' : 'First'}-angle
        projection, seen below from the {side}. Not to scale.
      </p>
      <svg viewBox={`0 0 ${PAPER.width} ${PAPER.height}`} role="img" aria-label={`Drawing of ${part.name}`}>
        <g transform={place}>
          {(
            [
              ['hidden', front.hidden],
              ['outline', front.visible],
              ['measure', threadsOf(part)],
              ['centre', centreLinesOf(part, [...front.visible, ...front.hidden])],
            ] as const
          ).map(([kind, segments]) => (
            <path key={kind} class={kind} d={chainPath(segments)} vector-effect="non-scaling-stroke" />
          ))}
        </g>
        {placedDimensions(camera, PAPER, drawing).map((d, i) => (
          <Measure key={`${d.dimension.text}.${i}`} {...d} />
        ))}
      </svg>
      <svg viewBox={`0 0 ${PAPER.width} ${BELOW}`} role="img" aria-label={`${part.name} from the ${side}`}>
        <SidePicture
          view={sideViewOf(solid, side)}
          marks={sideMarksOf(part, outline, solid, side)}
          unit={part.unit}
          scale={fits ? scale : (BELOW - 12) / bar.thickness}
          origin={left}
          low={0}
          high={bar.thickness}
          turned={side === 'upper edge'}
          width={PAPER.width}
          height={BELOW}
          label={`${part.name} from the ${side}`}
        />
      </svg>
    </>
  );
};

const Measure = ({ placed }: PlacedDimension) => {
  const { label } = placed;
  const arcs = placed.arcs.map((a) => {
    const [from, to] = [polar(a.centre, a.radius, a.from), polar(a.centre, a.radius, a.from + a.sweep)];
    const large = Math.abs(a.sweep) > Math.PI ? 1 : 0;
    return `M${pair(from)}A${px(a.radius)} ${px(a.radius)} 0 ${large} ${a.sweep > 0 ? 1 : 0} ${pair(to)}`;
  });
  const lines = placed.lines.map(([a, b]) => `M${pair(a)}L${pair(b)}`);
  const heads = placed.arrows.map(({ tip, direction }) => {
    const [a, b] = [0.17, -0.17].map((turn) => polar(tip, -10, direction + turn)) as [Point, Point];
    return `M${pair(tip)}L${pair(a)}L${pair(b)}Z`;
  });
  return (
    <g>
      <path class="measure" d={[...lines, ...arcs].join('')} />
      <path class="head" d={heads.join('')} />
      {placed.dot && <circle class="head" cx={px(placed.dot.x)} cy={px(placed.dot.y)} r="3" />}
      <g transform={`translate(${pair(label.at)}) rotate(${px(label.turn)})`}>
        <rect
          class="ground"
          x={px(-label.width / 2 - 2)}
          y={-LETTER / 2}
          width={px(label.width + 4)}
          height={LETTER}
        />
        <text>{label.text}</text>
      </g>
    </g>
  );
};

const px = (v: number): string => v.toFixed(2);
const pair = (p: Point): string => `${px(p.x)} ${px(p.y)}`;
