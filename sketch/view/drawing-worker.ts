import type { Drawing } from '../exchange/drawing.ts';
import { readDxf } from '../exchange/dxf-in.ts';
import { recognise } from '../exchange/recognition.ts';
import { readSvg } from '../exchange/svg-in.ts';
import { writeSvg } from '../exchange/svg-out.ts';
import { readPart } from '../part/document.ts';
import type { PartDocument } from '../part/schema.ts';
import type { Point } from '../shape/point.ts';
import { type Segment, segmentBox } from '../shape/segment.ts';
import type { DrawingAnswer, DrawingAsk, DrawingReply } from './drawing-answers.ts';

/** Reads drawings away from the page, so that a long file does not stop the drawing hand. */
self.onmessage = async (event: MessageEvent<DrawingAsk>): Promise<void> => {
  const ask = event.data;
  const reply: DrawingReply = { ticket: ask.ticket, answer: await answerTo(ask) };
  self.postMessage(reply);
};

/** More lines than this are not handed to the sheet. */
const MOST_LINES = 5000;
/** A stand-in until the thickness is said, mm. */
const THICKNESS = 6;

let last: { readonly file: File; readonly text: string } | null = null;

const answerTo = async (ask: DrawingAsk): Promise<DrawingAnswer> => {
  try {
    const text = last?.file === ask.file ? last.text : await ask.file.text();
    last = { file: ask.file, text };
    const options = {
      tolerance: ask.tolerance,
      ...(ask.mmPerUnit === null ? {} : { mmPerUnit: ask.mmPerUnit }),
    };
    const reading = ask.form === 'dxf' ? readDxf(text, options) : readSvg(text, options);
    const said = reading.findings.map((f) => f.message);
    if (reading.kind === 'refused') return { kind: 'refused', messages: said };
    if (reading.kind === 'question') return { kind: 'question', question: reading.question, messages: said };
    return recognised(
      reading.drawing,
      reading.findings.filter((f) => f.code !== 'drawing-left-out').map((f) => f.message),
    );
  } catch {
    return { kind: 'refused', messages: ['The file could not be read from the disk.'] };
  }
};

const recognised = (drawing: Drawing, said: readonly string[]): DrawingAnswer => {
  const made = recognise(drawing, { name: 'drawing', thickness: THICKNESS, material: 'low-carbon steel' });
  const boxes = drawing.strokes.map((s) => segmentBox(s.segment));
  const across = boxes.reduce((w, b) => [Math.min(w[0], b.min.x), Math.max(w[1], b.max.x)] as const, ENDLESS);
  const up = boxes.reduce((h, b) => [Math.min(h[0], b.min.y), Math.max(h[1], b.max.y)] as const, ENDLESS);
  return {
    kind: 'read',
    unit: drawing.unit,
    mmPerUnit: drawing.mmPerUnit,
    width: across[1] - across[0],
    height: up[1] - up[0],
    fit: drawing.fit,
    document: made.document,
    became: made.became,
    leftOut: [...drawing.leftOut, ...made.leftOut],
    areaOff: made.areaOff,
    messages: [...said, ...made.findings.filter((f) => f.code !== 'drawing-left-out').map((f) => f.message)],
    picture: made.document ? pictureOf(made.document) : null,
    lines:
      drawing.strokes.length > MOST_LINES
        ? []
        : drawing.strokes.map((s) => moved(s.segment, -(across[0] + across[1]) / 2, -(up[0] + up[1]) / 2)),
  };
};

const moved = (s: Segment, dx: number, dy: number): Segment => {
  const by = (p: Point): Point => ({ x: p.x + dx, y: p.y + dy });
  return s.kind === 'line'
    ? { ...s, from: by(s.from), to: by(s.to) }
    : { ...s, from: by(s.from), to: by(s.to), centre: by(s.centre) };
};

const ENDLESS: readonly [number, number] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];

const pictureOf = (document: PartDocument): string | null => {
  const reading = readPart(document);
  return reading.ok ? writeSvg(reading.part) : null;
};
