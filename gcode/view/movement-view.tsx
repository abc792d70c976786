import { useEffect, useId, useState } from 'preact/hooks';
import type { Bar, Unit } from '../../sketch/part/part.ts';
import { placeFigure, smallText, unitSign } from '../../sketch/part/units.ts';
import type { ForcePlace } from '../../toolpath/survival/force-survey.ts';
import { withoutMovement } from '../../toolpath/survival/movement-field.ts';
import type { PassSurvival } from '../../toolpath/survival/pass-survival.ts';
import {
  levelText,
  type MovementPicture,
  type MovementView,
  type Piece,
} from '../survival/movement-picture.ts';
import { exaggerationText } from '../survival/movement-words.ts';
import type { Movements, ShownMovement } from './movements.ts';
import type { SurveyAsk } from './survey.ts';

interface MovementProps {
  readonly movements: Movements;
  readonly ask: SurveyAsk;
  /** The pass that is chosen, by its place among those surveyed; −1 for one that is not among them. */
  readonly chosen: number;
  readonly pass: PassSurvival | null;
}

/** A slider that runs on asks for nothing until it rests this long, ms. */
const REST = 120;

const keyOf = ({ at, push }: ForcePlace): string => [at.x, at.y, at.z, push.x, push.y, push.z].join(' ');

/** How the work moves in the chosen pass: coloured by movement, drawn bent, from above and from the edge. */
export const MovementPanel = ({ movements, ask, chosen, pass }: MovementProps) => {
  const [picked, setPicked] = useState<number | null>(null);
  const [large, setLarge] = useState(false);
  const across = large ? lettersOnSheet(ask.planned.part.bar) : ON_CARD;
  const place = pass ? (picked !== null && pass.bending[picked] ? picked : worstOf(pass)) : -1;
  const bending = pass?.bending[place] ?? null;
  // Solving brings the same places anew: they are known by where they are.
  const where = bending ? keyOf(bending.place) : null;
  useEffect(() => setPicked(null), [chosen]);
  useEffect(() => {
    if (!pass || !bending) return;
    const wish = { pass: chosen, force: pass.force, place: bending.place, name: bending.name, across };
    const timer = setTimeout(() => movements.wish(ask, wish), REST);
    return () => clearTimeout(timer);
  }, [chosen, where, across, ask.planned, ask.programs]);
  const state = movements.state.value;
  const own =
    state !== null &&
    state.wish.pass === chosen &&
    keyOf(state.wish.place) === where &&
    state.wish.across === across;
  return (
    <section class="movement" aria-label="How the work moves" data-movement={pass?.force.label ?? ''}>
      <h4>{pass ? `${pass.force.label}: how the work moves` : 'How the work moves'}</h4>
      {bending === null ? (
        <p class="remark" data-no-movement>
          {pass ? (withoutMovement(pass.footing) ?? 'No place of this pass bends the work.') : NOT_SURVEYED}
        </p>
      ) : (
        <>
          <Places unit={ask.planned.part.unit} pass={pass!} shown={place} onPick={setPicked} />
          {own && state.failure && (
            <p class="wrong" role="alert">
              The movement could not be worked out: {state.failure}
            </p>
          )}
          {(!own || state.busy) && (
            <p class="aside" role="status">
              Working out how the whole of it moves …
            </p>
          )}
          {own && !state.busy && state.shown && (
            <Shown shown={state.shown} large={large} onLarge={setLarge} />
          )}
        </>
      )}
    </section>
  );
};

/** How many letters stand side by side over the work's length on the card, whose width hardly changes. */
const ON_CARD = 19;
/** Height of lettering, pixels. */
const LETTER = 15;
/** Of the window's height, what one view takes at most when the picture lies on the sheet. */
const SHARE = 0.27;

/** The same on the sheet: by the scale at which work of this size fits there with its jaws, cutter and arrow. */
const lettersOnSheet = (bar: Bar): number => {
  const card = document.querySelector('.card')?.getBoundingClientRect().width ?? 0;
  const scale = Math.min(
    (window.innerWidth - card - 100) / (1.2 * bar.length),
    (SHARE * window.innerHeight) / (1.3 * bar.width),
  );
  return Math.max(12, Math.round((bar.length * scale) / LETTER));
};

const NOT_SURVEYED =
  'The pass on the slider is by hand or cuts nothing, so it has no estimate. Choose another on the slider, in the plots or in the table.';

const worstOf = ({ bending }: PassSurvival): number =>
  bending.reduce((worst, b, i) => (b.movement > (bending[worst]?.movement ?? -1) ? i : worst), 0);

/** A place that the part has no name for, by its figures in the program. */
const spotText = ({ at }: ForcePlace, unit: Unit): string =>
  `at X ${placeFigure(at.x, unit)} Y ${placeFigure(at.y, unit)}`;

/** The places of the pass that were looked at; the worst is shown first. */
const Places = (p: {
  readonly unit: Unit;
  readonly pass: PassSurvival;
  readonly shown: number;
  readonly onPick: (place: number) => void;
}) =>
  p.pass.bending.length < 2 ? null : (
    <fieldset class="movement-places">
      <legend>Where the cutter presses</legend>
      {p.pass.bending.map((b, i) => (
        <button key={`${b.name}.${i}`} type="button" aria-pressed={i === p.shown} onClick={() => p.onPick(i)}>
          {b.scrap === null ? '' : 'scrap, '}
          {b.name ?? spotText(b.place, p.unit)}: {p.pass.basis === 'solved' ? 'about' : '≈'}{' '}
          {smallText(b.scrap ?? b.movement, p.unit)}
        </button>
      ))}
    </fieldset>
  );

const Shown = ({
  shown,
  large: onSheet,
  onLarge,
}: {
  readonly shown: ShownMovement;
  readonly large: boolean;
  readonly onLarge: (large: boolean) => void;
}) => {
  if (shown.kind === 'none') return <p class="remark">{shown.why}</p>;
  const { picture, words } = shown;
  const large = exaggerationText(picture.exaggeration);
  // Both to one scale, so that what is one under the other belongs together.
  const [box, tallest] = [picture.views[0].box, Math.max(...picture.views.map((v) => v.box.height))];
  const width = onSheet ? `min(100%, ${((100 * SHARE * box.width) / tallest).toFixed(1)}vh)` : '100%';
  return (
    <figure
      class={onSheet ? 'movement-picture movement-on-sheet' : 'movement-picture'}
      data-exaggeration={picture.exaggeration}
      data-under={shown.under}
    >
      <p class="movement-lay">
        <button type="button" class="quiet" aria-pressed={onSheet} onClick={() => onLarge(!onSheet)}>
          {onSheet ? 'put it back on the card' : 'lay it on the sheet, larger'}
        </button>
      </p>
      {picture.views.map((view) => (
        <View
          key={view.view}
          picture={picture}
          view={view}
          words={`${words.moves} Bending ${large}.`}
          width={width}
        />
      ))}
      <Key picture={picture} />
      <figcaption>
        <b>Bending {large}</b>; dashed, the work at rest. {words.moves} {words.push} {words.lie}
        {words.loose && ` ${words.loose}`} All estimates.
      </figcaption>
    </figure>
  );
};

const NAMES = { above: 'From above', edge: 'From the edge nearest you' } as const;

/** One view of a picture. */
export const View = (p: {
  readonly picture: Pick<MovementPicture, 'letter' | 'bands'>;
  readonly view: MovementView;
  readonly words: string;
  readonly width: string;
}) => {
  const id = useId();
  const { box, rest, clip, work, marks, letters, view } = p.view;
  const { letter, bands } = p.picture;
  const clipped = (piece: Piece): boolean => clip === null || piece.kind === 'band' || piece.kind === 'line';
  const gap = letter * 0.45;
  return (
    <>
      <p class="movement-name">{NAMES[view]}</p>
      <svg
        class="movement-view"
        style={{ width: p.width }}
        viewBox={`${box.x} ${box.y} ${box.width} ${box.height}`}
        role="img"
        aria-label={`${NAMES[view]}. ${p.words}`}
        data-view={view}
      >
        <defs>
          <pattern
            id={`${id}-hatch`}
            width={gap}
            height={gap}
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <line x1="0" y1="0" x2="0" y2={gap} class="jaw-hatch" stroke-width={gap / 4} />
          </pattern>
          {clip !== null && (
            <clipPath id={`${id}-clip`}>
              <path d={clip} clip-rule="evenodd" />
            </clipPath>
          )}
        </defs>
        <path class="movement-rest" d={rest} />
        <g clip-path={clip === null ? undefined : `url(#${id}-clip)`}>
          {work.filter(clipped).map((piece, i) => (
            <path key={i} class={classOf(piece, bands)} d={piece.path} />
          ))}
        </g>
        {work
          .filter((piece) => !clipped(piece))
          .map((piece, i) => (
            <path key={i} class={classOf(piece, bands)} d={piece.path} />
          ))}
        {marks.flatMap((mark, i) => [
          <path key={i} class={`movement-${mark.kind}`} d={mark.path} />,
          ...(mark.kind === 'jaw'
            ? [<path key={`${i} hatch`} d={mark.path} fill={`url(#${id}-hatch)`} />]
            : []),
        ])}
        {letters.map((l) => (
          <text
            key={`${l.text} ${l.at.x}`}
            x={l.at.x}
            y={-l.at.y + letter * 0.35}
            font-size={letter}
            stroke-width={letter * 0.28}
            text-anchor={l.anchor}
          >
            {l.text}
          </text>
        ))}
      </svg>
    </>
  );
};

/** The stair of even steps that depth has too, spread over as many bands as there are. */
const shade = (band: number, bands: number): number =>
  bands < 2 ? 0 : Math.round((Math.min(band, bands - 1) * 7) / (bands - 1));

const classOf = (piece: Piece, bands: number): string =>
  piece.kind === 'band'
    ? `movement-band movement-band-${shade(piece.band, bands)}`
    : `movement-${piece.kind}`;

const keyText = (picture: Pick<MovementPicture, 'step' | 'unit'>, band: number): string =>
  band === 0 ? '0' : levelText(picture, band);

/** The steps of movement with their figures: a line on the picture is the border between two of them. */
export const Key = ({ picture }: { readonly picture: Pick<MovementPicture, 'bands' | 'step' | 'unit'> }) => {
  const { bands } = picture;
  const sign = unitSign(picture.unit);
  const every = bands > 5 ? 2 : 1;
  return (
    <div
      class="movement-key"
      role="img"
      aria-label={`Key: movement in ${sign} from 0 to ${levelText(picture, bands)}, a line every ${levelText(picture, 1)}`}
    >
      <span class="movement-key-name">{sign}</span>
      <ol>
        {Array.from({ length: bands }, (_, band) => (
          <li key={band}>
            <i class={`movement-swatch movement-swatch-${shade(band, bands)}`} />
            <span>{band % every === 0 ? keyText(picture, band) : ''}</span>
          </li>
        ))}
      </ol>
    </div>
  );
};
