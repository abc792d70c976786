import { SaxesParser } from 'saxes';
import type { Finding } from '../part/part.ts';
import { type Affine, affineOf, compose, IDENTITY } from './affine.ts';
import { fitCurve } from './biarc.ts';
import { curveAt, transformed } from './curves.ts';
import {
  type DrawingReading,
  FIT_TOLERANCE,
  FileFault,
  guarded,
  LARGEST,
  LEAST_TOLERANCE,
  MM_PER_INCH,
  MOST_STROKES,
  type ReadingOptions,
  refused,
  type Stroke,
  shown,
  Tally,
  type UnitChoice,
} from './drawing.ts';
import { finish } from './finish.ts';
import { type Attributes, lengthOf, pxOf, SHAPES, shapeCurves } from './svg-shapes.ts';

const LONGEST_TEXT = 20_000_000;
const DEEPEST = 200;
/** Each curve takes a good part of a millisecond to fit. */
const MOST_CURVES = 2500;
/** Figures beyond this are no drawing's, whatever the unit. */
const MOST_UNITS = 1e9;
const MM_PER_PX = MM_PER_INCH / 96;

const CHOICES: readonly UnitChoice[] = [
  { name: 'mm', mmPerUnit: 1 },
  { name: 'inch', mmPerUnit: MM_PER_INCH },
  { name: 'px, 96 to the inch', mmPerUnit: MM_PER_PX },
  { name: 'pt, 72 to the inch', mmPerUnit: MM_PER_INCH / 72 },
];

/** Elements that only hold others. */
const GROUPS: readonly string[] = ['g', 'a', 'switch'];
/** Elements that draw nothing and mean nothing to the shape; passed over with all that is in them. */
const SILENT: readonly string[] = ['title', 'desc', 'metadata', 'style', 'defs', 'namedview'];

/**
 * Reads an SVG: paths and basic shapes in nested groups with their transforms. Curves become lines and arcs within the
 * tolerance; what that cost is measured. The unit is the option's, else that of the page's width, else asked for.
 * Nothing of the file is run, loaded or expanded, and nothing is thrown.
 */
export const readSvg = (text: string, options: ReadingOptions = {}): DrawingReading =>
  guarded(() => {
    if (text.length > LONGEST_TEXT) {
      return refused(
        'drawing-too-long',
        `The file has ${Math.round(text.length / 1e6)} million characters; at most ${LONGEST_TEXT / 1e6} million are read. Save just the part.`,
      );
    }
    return new SvgReading(options).read(text);
  });

interface Level {
  readonly transform: Affine;
  /** Why nothing in here is read, or null. */
  readonly silent: string | null;
}

class SvgReading {
  readonly #options: ReadingOptions;
  readonly #tolerance: number;
  readonly #strokes: Stroke[] = [];
  readonly #leftOut = new Tally();
  readonly #findings: Finding[] = [];
  readonly #levels: Level[] = [];
  #mmPerUnit: number | null = null;
  #worst = 0;
  #fitted = 0;
  #seenRoot = false;

  constructor(options: ReadingOptions) {
    this.#options = options;
    this.#tolerance = Math.max(LEAST_TOLERANCE, options.tolerance ?? FIT_TOLERANCE);
  }

  read(text: string): DrawingReading {
    const parser = new SaxesParser({ position: true });
    // With no handler for errors the parser throws, and there an end is made of it. It expands no entities but the
    // five of XML itself, and loads nothing.
    let fault: Error | null = null;
    parser.on('error', (error) => {
      fault ??= error;
      throw error;
    });
    parser.on('opentag', (tag) => this.#open(plain(tag.name), tag.attributes as Attributes, parser.line));
    parser.on('closetag', () => {
      this.#levels.pop();
    });
    try {
      parser.write(text).close();
    } catch (error) {
      if (error instanceof FileFault) throw error;
      if (fault === null) throw error;
      const message = (fault as Error).message.replace(/^\d+:\d+: /, '');
      throw new FileFault('svg-not-xml', parser.line, `this is no sound XML: ${shownReason(message)}`);
    }
    if (!this.#seenRoot) throw new FileFault('svg-no-root', 1, 'the file holds no svg element');
    return finish({
      strokes: this.#strokes,
      mmPerUnit: this.#mmPerUnit,
      choices: CHOICES,
      leftOut: this.#leftOut,
      fit: { tolerance: this.#tolerance, worst: this.#worst, curves: this.#fitted },
      findings: this.#findings,
    });
  }

  #open(name: string, attributes: Attributes, line: number): void {
    const above = this.#levels[this.#levels.length - 1];
    if (this.#levels.length >= DEEPEST) {
      throw new FileFault('svg-too-deep', line, `groups lie more than ${DEEPEST} deep in one another`);
    }
    if (above === undefined) {
      if (name !== 'svg') throw new FileFault('svg-no-root', line, `the file holds ${shown(name)}, no svg`);
      this.#seenRoot = true;
      this.#levels.push({ transform: this.#page(attributes, line), silent: null });
      return;
    }
    const silent = above.silent ?? silence(name, attributes);
    if (silent !== null) {
      // Of what is passed over only that is counted which would have drawn something.
      if (silent !== '' && (above.silent === null || SHAPES.includes(name))) {
        this.#leftOut.add(above.silent === null ? silent : `${name} in ${silent}`);
      } else if (silent === '' && SHAPES.includes(name)) this.#leftOut.add(`${name} in a definition`);
      this.#levels.push({ transform: IDENTITY, silent });
      return;
    }
    if (/\btransform\s*:/.test(attributes.style ?? '')) {
      throw new FileFault('svg-transform', line, 'a transform in a style is not read; save as plain SVG');
    }
    const transform =
      attributes.transform === undefined
        ? above.transform
        : compose(above.transform, affineOf(attributes.transform, line));
    this.#levels.push({ transform, silent: null });
    if (SHAPES.includes(name)) this.#shape(name, attributes, transform, line);
  }

  #shape(name: string, attributes: Attributes, transform: Affine, line: number): void {
    for (const curve of shapeCurves(name, attributes, line)) {
      const own = transformed(curve, transform);
      const ends = [curveAt(own, 0), curveAt(own, 1), curveAt(own, 0.5)];
      if (!ends.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y))) {
        throw new FileFault('svg-length', line, `a ${name} has no finite size`);
      }
      // Before the unit is known all is fitted to a share of its own size; only its extent is of use then.
      const size = Math.max(...ends.map((p) => Math.max(Math.abs(p.x), Math.abs(p.y))), 1e-6);
      const largest = this.#mmPerUnit === null ? MOST_UNITS : LARGEST;
      if (size > largest) {
        throw new FileFault(
          'drawing-too-large',
          line,
          `a ${name} reaches ${size.toPrecision(3)} ${this.#mmPerUnit === null ? 'units' : 'mm'} from zero, at most ${largest} are read. Is the unit right?`,
        );
      }
      const { segments, worst } = fitCurve(own, this.#mmPerUnit === null ? size / 100 : this.#tolerance);
      if (curve.kind !== 'line' && (segments.length !== 1 || worst > 0)) this.#fitted += 1;
      if (this.#fitted > MOST_CURVES) {
        throw new FileFault(
          'drawing-too-many',
          line,
          `the drawing has more than ${MOST_CURVES} curves to be fitted; save just the part`,
        );
      }
      this.#worst = Math.max(this.#worst, worst);
      for (const segment of segments) this.#strokes.push({ segment, layer: '' });
      if (this.#strokes.length > MOST_STROKES) {
        throw new FileFault(
          'drawing-too-many',
          line,
          `the drawing comes to more than ${MOST_STROKES} lines and arcs; save just the part`,
        );
      }
    }
  }

  /** From the coordinates of the root to mm with Y up; notes the unit or that there is none. */
  #page(attributes: Attributes, line: number): Affine {
    const k = this.#options.mmPerUnit ?? this.#statedUnit(attributes, line);
    this.#mmPerUnit = k;
    const scale = k ?? 1;
    return { a: scale, b: 0, c: 0, d: -scale, e: 0, f: 0 };
  }

  #statedUnit(attributes: Attributes, line: number): number | null {
    const [across, up] = [attributes.width, attributes.height].map((t) => sizeInMm(t));
    if (attributes.viewBox === undefined) {
      // Without a view box one unit is one px, and a width in mm says that these are real lengths.
      return across == null && up == null ? null : MM_PER_PX;
    }
    const box = attributes.viewBox
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    if (box.length !== 4 || !box.every(Number.isFinite) || !(box[2]! > 0) || !(box[3]! > 0)) {
      throw new FileFault('svg-view-box', line, `the view box ${shown(attributes.viewBox)} cannot be read`);
    }
    const scales = [across == null ? null : across / box[2]!, up == null ? null : up / box[3]!].filter(
      (s): s is number => s !== null && s > 0,
    );
    if (scales.length === 0) return null;
    const [least, most] = [Math.min(...scales), Math.max(...scales)];
    if (/^\s*none/.test(attributes.preserveAspectRatio ?? '') && most > least * (1 + 1e-6)) {
      throw new FileFault('svg-view-box', line, 'the page is stretched more one way than the other');
    }
    if (most > least * 1.001) {
      this.#findings.push({
        code: 'svg-page-uneven',
        severity: 'warning',
        message: `Width and height of the page give units of ${least.toPrecision(5)} and ${most.toPrecision(5)} mm; the smaller is taken. Check a size.`,
      });
    }
    return neat(least);
  }
}

/** A scale that misses a common unit only by the digits of the page's size is that unit. */
const neat = (k: number): number =>
  [1, MM_PER_PX, MM_PER_INCH, MM_PER_INCH / 72].find((unit) => Math.abs(k / unit - 1) < 1e-6) ?? k;

/** An absolute length in mm; null when it is left out, bare, in px, in per cent or in a unit that hangs on fonts. */
const sizeInMm = (text: string | undefined): number | null => {
  const read = text === undefined ? null : lengthOf(text);
  if (read === null || read.unit === '' || read.unit === 'px') return null;
  const px = pxOf(read.unit);
  return px === null ? null : read.value * px * MM_PER_PX;
};

/** Why an element is not read: '' for those that mean nothing to the shape, null when it is read. */
const silence = (name: string, attributes: Attributes): string | null => {
  if (SILENT.includes(name)) return '';
  if (attributes.display === 'none' || /\bdisplay\s*:\s*none\b/.test(attributes.style ?? '')) {
    return `hidden ${name}`;
  }
  if (GROUPS.includes(name) || SHAPES.includes(name)) return null;
  return name === 'svg' ? 'svg within the svg' : name;
};

/** An element's name without a prefix, short enough to be shown. */
const plain = (name: string): string => name.replace(/^.*:/, '').slice(0, 40);

const shownReason = (message: string): string => shown(message).slice(1, -1);
