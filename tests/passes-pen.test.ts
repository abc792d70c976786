import { describe, expect, it } from 'vitest';
import { rectangle } from '../sketch/shape/region.ts';
import { arc, line, type Segment } from '../sketch/shape/segment.ts';
import { nearest } from '../toolpath/passes/lap-order.ts';
import type { Lap } from '../toolpath/passes/laps.ts';
import type { Move } from '../toolpath/passes/pass.ts';
import { leadIn, leadOut, takePen } from '../toolpath/passes/pen.ts';
import {
  afterFirst,
  beginAfter,
  endOf,
  firstOf,
  isClosed,
  startAt,
  startNear,
} from '../toolpath/passes/track.ts';

// The pen that writes moves, and paths begun, cut and joined: small figures, each move by itself.

const at = (x: number, y: number) => ({ x, y });
const told = (moves: readonly Move[]): string[] =>
  moves.map((m) =>
    m.kind === 'rapid' || m.kind === 'feed' || m.kind === 'arc'
      ? `${m.kind} ${m.to.x} ${m.to.y} ${m.to.z}${m.kind === 'rapid' ? '' : ` F${m.feed}`}`
      : m.kind,
  );

describe('a pen', () => {
  it('goes over at the clear height, down to half a millimetre over what stands there, and up again', () => {
    const pen = takePen(5);
    expect(pen.at()).toBeNull();
    pen.lift();
    expect(pen.moves()).toEqual([]);
    pen.goTo(at(1, 2), -2, -3);
    pen.goTo(at(4, 2), null, -3);
    pen.goTo(at(4, 6), -4, -3);
    pen.lift();
    pen.lift();
    expect(told(pen.moves())).toEqual([
      ...['rapid 1 2 5', 'rapid 1 2 -1.5'],
      ...['rapid 1 2 5', 'rapid 4 2 5', 'rapid 4 2 -2.5'],
      ...['rapid 4 2 5', 'rapid 4 6 5', 'rapid 4 6 -2.5'],
      'rapid 4 6 5',
    ]);
    expect(pen.at()).toEqual({ x: 4, y: 6, z: 5 });
  });

  it('crosses low where it is told to, and is never sent above that to come down', () => {
    const pen = takePen(5);
    pen.feedTo({ x: 0, y: 0, z: -3 }, 90);
    pen.goTo(at(9, 0), null, -3, -2.5);
    pen.goTo(at(9, 0), null, -3, -2.5);
    pen.goTo(at(9, 4), 0, -3, -2.5);
    expect(told(pen.moves())).toEqual([
      'feed 0 0 -3 F90',
      ...['rapid 0 0 -2.5', 'rapid 9 0 -2.5'],
      'rapid 9 4 -2.5',
    ]);
    // It does not sink to cross.
    pen.lift();
    pen.goTo(at(1, 1), null, -3, 2);
    expect(told(pen.moves()).slice(4)).toEqual(['rapid 9 4 5', 'rapid 1 1 2', 'rapid 1 1 -2.5']);
  });

  it('writes no move to where it is', () => {
    const pen = takePen(5);
    pen.feedTo({ x: 1, y: 1, z: 1 }, 90);
    pen.feedTo({ x: 1, y: 1, z: 1 + 1e-10 }, 90);
    pen.goTo(at(1, 1), null, 0.5, 1);
    expect(pen.moves()).toHaveLength(1);
    for (const to of [
      { x: 1.001, y: 1, z: 1 },
      { x: 1.001, y: 1.001, z: 1 },
      { x: 1.001, y: 1.001, z: 1.001 },
    ])
      pen.feedTo(to, 90);
    expect(pen.moves()).toHaveLength(4);
    for (const to of [at(1.002, 1.001), at(1.002, 1.002)]) pen.goTo(to, null, 0, 1.001);
    expect(
      pen
        .moves()
        .slice(4)
        .map((m) => 'to' in m && [m.to.x, m.to.y, m.to.z]),
    ).toEqual([
      [1.002, 1.001, 1.001],
      [1.002, 1.001, 0.5],
      [1.002, 1.001, 1.001],
      [1.002, 1.002, 1.001],
      [1.002, 1.002, 0.5],
    ]);
  });

  it('follows segments at its depth, or sinking evenly over their length', () => {
    const way: readonly Segment[] = [
      line(at(0, 0), at(10, 0)),
      line(at(10, 0), at(10, 0)),
      line(at(10, 0), at(10, 30)),
    ];
    const pen = takePen(5);
    pen.feedTo({ x: 0, y: 0, z: 0 }, 90);
    pen.follow(way, 80, -4);
    pen.follow([line(at(10, 30), at(0, 30))], 70);
    expect(told(pen.moves()).slice(1)).toEqual(['feed 10 0 -1 F80', 'feed 10 30 -4 F80', 'feed 0 30 -4 F70']);
  });

  it('follows rounds either way about, and has to have a place to do so', () => {
    const pen = takePen(5);
    expect(() => pen.follow([line(at(0, 0), at(1, 0))], 80)).toThrow(/no place to follow from/);
    pen.feedTo({ x: 3, y: 0, z: -1 }, 90);
    pen.follow([arc(at(3, 0), at(-3, 0), at(0, 0), true), arc(at(-3, 0), at(3, 0), at(0, 0), true)], 80);
    pen.follow([arc(at(3, 0), at(3, 0), at(0, 0), false)], 60, -2);
    expect(pen.moves().slice(1)).toEqual([
      { kind: 'arc', to: { x: -3, y: 0, z: -1 }, centre: at(0, 0), clockwise: false, feed: 80 },
      { kind: 'arc', to: { x: 3, y: 0, z: -1 }, centre: at(0, 0), clockwise: false, feed: 80 },
      { kind: 'arc', to: { x: 3, y: 0, z: -2 }, centre: at(0, 0), clockwise: true, feed: 60 },
    ]);
    expect(pen.at()).toEqual({ x: 3, y: 0, z: -2 });
  });

  it('is where a move that was put in leaves it: over a drilled hole, as before behind a stop', () => {
    const pen = takePen(5);
    pen.feedTo({ x: 1, y: 2, z: 3 }, 90);
    pen.add({ kind: 'stop', message: 'turn it' });
    expect(pen.at()).toEqual({ x: 1, y: 2, z: 3 });
    pen.add({ ...{ kind: 'drill', at: at(7, 8), clear: 0.5, depth: -4, peck: 1, dwell: 0, feed: 50 } });
    expect(pen.at()).toEqual({ x: 7, y: 8, z: 0.5 });
    expect(pen.moves().map((m) => m.kind)).toEqual(['feed', 'stop', 'drill']);
  });
});

describe('a lead', () => {
  it('is a quarter round that comes to a line’s start, or goes from its end, on the side named', () => {
    const wall = line(at(10, 5), at(20, 5));
    expect(leadIn(wall, 2, 'left')).toEqual({
      ...{ kind: 'arc', from: at(8, 7), to: at(10, 5), centre: at(10, 7), sweep: Math.PI / 2 },
    });
    expect(leadIn(wall, 2, 'right')).toEqual({
      ...{ kind: 'arc', from: at(8, 3), to: at(10, 5), centre: at(10, 3), sweep: -Math.PI / 2 },
    });
    expect(leadOut(wall, 2, 'left')).toEqual({
      ...{ kind: 'arc', from: at(20, 5), to: at(22, 7), centre: at(20, 7), sweep: Math.PI / 2 },
    });
    expect(leadOut(wall, 2, 'right')).toEqual({
      ...{ kind: 'arc', from: at(20, 5), to: at(22, 3), centre: at(20, 3), sweep: -Math.PI / 2 },
    });
  });
});

describe('a path', () => {
  const bent = { segments: [line(at(0, 0), at(10, 0)), line(at(10, 0), at(10, 5))] };
  const square = { segments: rectangle(at(0, 0), at(10, 4)).contours[0]!.segments };
  const corners = (segments: readonly Segment[]): string =>
    [segments[0]!.from, ...segments.map((s) => s.to)].map((p) => `${p.x},${p.y}`).join(' ');

  it('has a first stretch and a rest', () => {
    expect(firstOf(bent, 0)).toEqual([]);
    expect(corners(firstOf(bent, 4))).toBe('0,0 4,0');
    expect(firstOf(bent, 10)).toEqual([bent.segments[0]]);
    expect(corners(firstOf(bent, 12))).toBe('0,0 10,0 10,2');
    expect(firstOf(bent, 15)).toEqual(bent.segments);
    expect(firstOf(bent, 99)).toEqual(bent.segments);
    expect(corners(afterFirst(bent, 4).segments)).toBe('4,0 10,0 10,5');
    expect(afterFirst(bent, 0)).toEqual(bent);
    expect(afterFirst(bent, 10).segments).toEqual([bent.segments[1]]);
    expect(corners(afterFirst(bent, 12).segments)).toBe('10,2 10,5');
    // Nothing would be left of it.
    expect(afterFirst(bent, 15)).toBe(bent);
    expect(afterFirst(bent, 99)).toBe(bent);
  });

  it('that is closed may begin anywhere', () => {
    expect(isClosed(square)).toBe(true);
    expect(isClosed(bent)).toBe(false);
    expect(endOf(bent)).toEqual(at(10, 5));
    expect(corners(startAt(square, 1, 0.5).segments)).toBe('10,2 10,4 0,4 0,0 10,0 10,2');
    expect(corners(startAt(square, 1, 0).segments)).toBe('10,0 10,4 0,4 0,0 10,0');
    expect(corners(startAt(square, 1, 1).segments)).toBe('10,4 0,4 0,0 10,0 10,4');
    expect(corners(beginAfter(square, 12).segments)).toBe('10,2 10,4 0,4 0,0 10,0 10,2');
    expect(corners(beginAfter(square, 10).segments)).toBe('10,0 10,4 0,4 0,0 10,0');
    expect(beginAfter(square, 99)).toBe(square);
    expect(corners(startNear(square, at(12, 2)).segments)).toBe('10,2 10,4 0,4 0,0 10,0 10,2');
    // Of places as near the first.
    expect(corners(startNear(square, at(5, 2)).segments)).toBe('5,0 10,0 10,4 0,4 0,0 5,0');
  });

  it('is the next where its beginning is nearest, wherever one may begin that is closed', () => {
    const lap = (path: Lap['path'], closed: boolean): Lap => ({ path, closed, ring: 0 });
    const [open, round, back] = [
      lap({ segments: [line(at(20, 0), at(11, 0))] }, false),
      lap(square, true),
      lap({ segments: [line(at(11, 0), at(20, 0))] }, false),
    ];
    expect(nearest([open, round], null)).toBe(open);
    expect(nearest([open, round], at(12, 1))).toBe(round);
    expect(nearest([open, round, back], at(12, 0))).toBe(back);
    expect(nearest([round, open], at(18, 0))).toBe(open);
    const same = lap({ segments: [line(at(11, 0), at(15, 0))] }, false);
    expect(nearest([back, same], at(0, 0))).toBe(back);
  });
});
