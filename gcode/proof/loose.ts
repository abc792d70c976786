import type { Point3 } from '../../sketch/shape/point.ts';
import { cellMiddle, type HeightMap } from '../../toolpath/removal/height-map.ts';
import type { WantedColumns } from '../../toolpath/removal/raster.ts';
import type { Holding, PlateHolding } from './hold.ts';
import { hasCell, type Piece, piecesOf, type RowRuns } from './pieces.ts';

/** What has already been told of pieces in this setup. */
export interface LooseWatch {
  /** 1 for cells known to belong to a loose piece. */
  readonly loose: Uint8Array;
  /** Whether the part still hangs on what is held; false too when it never was. */
  partHeld: boolean;
}

export interface FreePiece {
  readonly isPart: boolean;
  readonly at: Point3;
  readonly length: number;
  readonly width: number;
}

/** Pieces smaller than this are chips, mm. */
const CHIP = 3;

/** `runs` are the map's, here and below. */
export const watchPieces = (
  map: HeightMap,
  columns: WantedColumns,
  holding: Holding,
  runs: RowRuns,
): LooseWatch => {
  const pieces = piecesOf(map, (i) => columns.top[i]! > columns.bottom[i]!, runs);
  const watch = {
    loose: new Uint8Array(map.top.length),
    partHeld: pieces.some((p) => p.wanted && isHeld(p, map, holding)),
  };
  for (const piece of pieces) if (!piece.wanted) markLoose(piece, watch);
  return watch;
};

const markLoose = ({ runs }: Piece, { loose }: LooseWatch): void => {
  for (let k = 0; k < runs.length; k += 2) loose.fill(1, runs[k]!, runs[k + 1]!);
};

/** Pieces that came free since the last look: offcuts, and the part itself when nothing holds it any more. */
export const comingFree = (
  map: HeightMap,
  columns: WantedColumns,
  holding: Holding,
  watch: LooseWatch,
  runs: RowRuns,
): readonly FreePiece[] => {
  const pieces = piecesOf(map, (i) => columns.top[i]! > columns.bottom[i]!, runs);
  const found: FreePiece[] = [];
  const sizeOf = (p: Piece): { length: number; width: number } => ({
    length: (p.columns[1] - p.columns[0] + 1) * map.cell,
    width: (p.rows[1] - p.rows[0] + 1) * map.cell,
  });
  const placeOf = (p: Piece): Point3 => ({
    ...cellMiddle(map, p.at),
    z: (map.top[p.at]! + map.bottom[p.at]!) / 2,
  });
  const fresh = pieces.filter((p) => !p.wanted && watch.loose[p.at] === 0 && !isHeld(p, map, holding));
  for (const piece of fresh) {
    const size = sizeOf(piece);
    if (Math.max(size.length, size.width) > CHIP) {
      found.push({ isPart: false, at: placeOf(piece), ...size });
    }
    markLoose(piece, watch);
  }
  const parts = pieces.filter((p) => p.wanted);
  if (watch.partHeld && parts.length > 0 && !parts.some((p) => isHeld(p, map, holding))) {
    watch.partHeld = false;
    const largest = parts.reduce((a, b) => (b.cells > a.cells ? b : a));
    found.push({ isPart: true, at: placeOf(largest), ...sizeOf(largest) });
  }
  return found;
};

/** Whether a piece bears on both jaws somewhere in their height, or is fastened to the plate. */
const isHeld = (piece: Piece, map: HeightMap, holding: Holding): boolean => {
  if (holding.plate !== null) return isFastened(piece, map, holding.plate, holding.underside);
  const { faces, jaws } = holding;
  if (faces === null || jaws === null || jaws.box === null) return false;
  const near = 1.5 * map.cell;
  const bears = (y: number, inward: 1 | -1): boolean => {
    const row = Math.min(
      map.rows - 1,
      Math.max(0, Math.floor((y - map.y0) / map.cell + (inward > 0 ? 1e-6 : -1e-6))),
    );
    for (let k = 0; k * map.cell <= near; k++) {
      const r = row + inward * k;
      const between = (i: number): boolean => {
        const x = map.x0 + (i - r * map.columns + 0.5) * map.cell;
        return x >= jaws.box![0] && x <= jaws.box![2];
      };
      if (hasCell(piece, map.columns, [r, r], between)) return true;
    }
    return false;
  };
  return bears(faces.low, 1) && bears(faces.high, -1);
};

/** Nearer to the plate than this it lies on the glue, mm. */
const TOUCHES = 0.05;

/** Tape holds whatever lies on it; a foot holds what is under its pad. */
const isFastened = (piece: Piece, map: HeightMap, plate: PlateHolding, underside: number): boolean => {
  const isGlued = (i: number): boolean =>
    (plate.up > 0 ? map.bottom[i]! : -map.top[i]!) < underside + TOUCHES;
  if (plate.glued) return hasCell(piece, map.columns, piece.rows, isGlued);
  return plate.feet.some(({ at, pad }) =>
    hasCell(piece, map.columns, piece.rows, (i) => {
      const { x, y } = cellMiddle(map, i);
      return Math.hypot(x - at.x, y - at.y) <= pad;
    }),
  );
};
