import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { figure } from '../../sketch/canvas/dimensions.ts';
import { type SectionPicture, SectionView } from '../../sketch/view/section-view.tsx';
import type { SectionStill } from './film-pictures.ts';
import { titleOf } from './step-sentence.tsx';
import { depthOf, type Still, type Work } from './work.ts';

interface FilmStripProps {
  readonly work: Work | null;
  readonly stills: readonly Still[];
  readonly sections: readonly (SectionStill | undefined)[];
  readonly shown: number;
  readonly onShow: (index: number) => void;
  /** What the worker is at, while it is. */
  readonly progress: string | null;
  readonly pictures: readonly (SectionPicture | null)[];
}

/** Between two frames when the film plays, ms. */
const PLAY_STEP = 450;
const FRAME = { width: 104, height: 64 };

/** The passes in the order of cutting, like frames of a film: a slider, a play button, and a small section of each. */
export const FilmStrip = (p: FilmStripProps) => {
  const { stills, shown, onShow } = p;
  const [playing, setPlaying] = useState(false);
  const still = stills[shown];
  useEffect(() => {
    if (!playing) return;
    if (shown >= stills.length - 1) {
      setPlaying(false);
      return;
    }
    const timer = setTimeout(() => onShow(shown + 1), PLAY_STEP);
    return () => clearTimeout(timer);
  }, [playing, shown, stills.length, onShow]);
  const play = (): void => {
    if (!playing && shown >= stills.length - 1) onShow(0);
    setPlaying(!playing);
  };
  return (
    <section class="film" aria-label="Passes in the order of cutting">
      <div class="film-controls">
        <button
          type="button"
          aria-label={playing ? 'Stop' : 'Play the passes'}
          disabled={stills.length === 0}
          onClick={play}
        >
          {playing ? '❚❚' : '▶'}
        </button>
        <button
          type="button"
          aria-label="Pass before"
          disabled={shown <= 0}
          onClick={() => onShow(shown - 1)}
        >
          ‹
        </button>
        <input
          type="range"
          min={0}
          max={Math.max(0, stills.length - 1)}
          value={shown}
          disabled={stills.length === 0}
          aria-label="Pass"
          aria-valuetext={still ? passWords(p, still) : 'no passes yet'}
          onInput={(e) => onShow(Number(e.currentTarget.value))}
        />
        <button
          type="button"
          aria-label="Pass after"
          disabled={shown >= stills.length - 1}
          onClick={() => onShow(shown + 1)}
        >
          ›
        </button>
        <p class="film-words" aria-live="polite" data-film-words>
          {p.progress && <span class="progress">{p.progress} </span>}
          {still && passWords(p, still)}
          {!still && !p.progress && 'No passes: the drawing is not a whole part yet.'}
        </p>
      </div>
      <Frames {...p} />
    </section>
  );
};

const passWords = (p: FilmStripProps, still: Still): string => {
  const unit = p.work?.part.unit ?? 'mm';
  const u = unit === 'mm' ? 'mm' : 'in';
  const web = p.sections[still.index]?.webLeft ?? null;
  const kind =
    still.pass.kind === 'release'
      ? 'releasing pass'
      : still.pass.kind === 'finish'
        ? 'finishing pass'
        : 'pass';
  return [
    `${still.index + 1} of ${p.stills.length}`,
    `${still.stepNumber}. ${titleOf(still.step.step)}, ${kind} ${still.passNumber} of ${still.step.passes.length}`,
    `depth ${figure(depthOf(still.pass), unit)} ${u}`,
    web === null ? 'no web on A – A' : `web left ${figure(web, unit)} ${u}`,
  ].join(' · ');
};

const Frames = (p: FilmStripProps) => {
  const list = useRef<HTMLOListElement>(null);
  const { shown } = p;
  useEffect(() => {
    const frame = list.current?.children[shown];
    if (!(frame instanceof HTMLElement) || !list.current) return;
    const left = frame.offsetLeft - list.current.clientWidth / 2 + frame.clientWidth / 2;
    list.current.scrollTo({ left });
  }, [shown]);
  return (
    <ol class="frames" ref={list}>
      {p.stills.map((still) => (
        <Frame key={still.index} {...p} still={still} />
      ))}
    </ol>
  );
};

const Frame = (p: FilmStripProps & { readonly still: Still }) => {
  const { still } = p;
  const unit = p.work?.part.unit ?? 'mm';
  const picture = p.pictures[still.index] ?? null;
  // The same element again is left alone: only new pictures cost anything.
  const drawn = useMemo(
    () =>
      picture && <SectionView picture={picture} width={FRAME.width} height={FRAME.height} label="" small />,
    [picture],
  );
  const before = p.stills[still.index - 1];
  const starts = before?.step !== still.step;
  const depth = figure(depthOf(still.pass), unit);
  // What is lettered on the frame comes first, so that it can be called by what one sees.
  const label = `${starts ? `${still.stepNumber}. ${depth}: ` : ''}${passWords(p, still)}`;
  return (
    <li class={starts ? 'starts' : ''}>
      <button
        type="button"
        class={still.pass.kind === 'release' ? 'frame frame-release' : 'frame'}
        aria-pressed={still.index === p.shown}
        aria-label={label}
        tabIndex={still.index === p.shown ? 0 : -1}
        data-still={still.index}
        onClick={() => p.onShow(still.index)}
        onKeyDown={(e) => {
          const step = e.key === 'ArrowRight' ? 1 : e.key === 'ArrowLeft' ? -1 : 0;
          const to = still.index + step;
          if (step === 0 || !p.stills[to]) return;
          e.preventDefault();
          p.onShow(to);
          const list = e.currentTarget.closest('ol');
          list?.querySelector<HTMLButtonElement>(`[data-still="${to}"]`)?.focus();
        }}
      >
        {drawn ?? <span class="frame-empty" />}
        <span class="frame-words">
          <span>{starts ? `${still.stepNumber}.` : ''}</span> <span>{depth}</span>
        </span>
      </button>
    </li>
  );
};
