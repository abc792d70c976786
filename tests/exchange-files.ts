import type { Drawing, DrawingReading } from '../sketch/exchange/drawing.ts';

/** DXF text from its groups. */
export const dxf = (groups: readonly (readonly [number, string | number])[]): string =>
  `${groups.map(([code, value]) => `${code}\n${value}`).join('\n')}\n`;

export type Groups = readonly (readonly [number, string | number])[];

/** A drawing in mm of the given entities. */
export const drawingDxf = (entities: Groups, insunits: number | null = 4): string =>
  dxf([
    [0, 'SECTION'],
    [2, 'HEADER'],
    ...(insunits === null
      ? []
      : ([
          [9, '$INSUNITS'],
          [70, insunits],
        ] as Groups)),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...entities,
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ]);

export const lineGroups = (x1: number, y1: number, x2: number, y2: number): Groups => [
  [0, 'LINE'],
  [8, '0'],
  [10, x1],
  [20, y1],
  [11, x2],
  [21, y2],
];

/** A drawing in mm of one element or more. */
export const drawingSvg = (
  body: string,
  attributes = 'width="100mm" height="100mm" viewBox="0 0 100 100"',
): string => `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${body}</svg>`;

export const drawingOf = (reading: DrawingReading): Drawing => {
  if (reading.kind === 'read') return reading.drawing;
  throw new Error(reading.findings.map((f) => f.message).join(' ') || reading.kind);
};
