import fc from 'fast-check';

/** Part files of random levers, all within what the program is for; some are impossible and must be refused. */
export const randomLever: fc.Arbitrary<Record<string, unknown>> = fc
  .record({
    material: fc.constantFrom('free-cutting steel', 'low-carbon steel', 'brass', 'aluminium', 'acetal'),
    thickness: fc.integer({ min: 6, max: 24 }).map((n) => n / 2),
    big: fc.integer({ min: 10, max: 24 }).map((n) => n / 2),
    small: fc.integer({ min: 7, max: 20 }).map((n) => n / 2),
    centres: fc.integer({ min: 24, max: 70 }),
    margin: fc.constantFrom(0, 0.5, 2, 5, 9, 12),
    sawn: fc.constantFrom(0, 1),
    fork: fc.option(
      fc.record({
        width: fc.constantFrom(3, 4, 5, 6, 6.5),
        depth: fc.integer({ min: 6, max: 14 }),
        square: fc.boolean(),
      }),
    ),
    slot: fc.option(
      fc.record({
        width: fc.constantFrom(3, 3.5, 4, 5),
        length: fc.integer({ min: 3, max: 12 }),
        blind: fc.boolean(),
      }),
    ),
    hole: fc.constantFrom('reamed', 'clearance', 'tapped', 'counterbored', 'none'),
    body: fc.option(
      fc.record({ from: fc.constantFrom('front', 'back', 'both'), share: fc.integer({ min: 3, max: 7 }) }),
    ),
    tilt: fc.constantFrom(0, 0, 0, 12, -25),
  })
  .map((r) => {
    const far = [
      r.centres * Math.cos((r.tilt * Math.PI) / 180),
      r.centres * Math.sin((r.tilt * Math.PI) / 180),
    ];
    const low = Math.min(-r.big, far[1]! - r.small);
    const high = Math.max(r.big, far[1]! + r.small);
    const t = r.thickness;
    const left = r.body ? (t * (10 - r.body.share)) / 10 : 0;
    const lands = r.body
      ? [
          {
            name: 'body',
            area: {
              rectangle: [
                [r.big + 1, -100],
                [far[0]! - r.small - 0.5, 100],
              ],
            },
            top: r.body.from === 'back' ? t : r.body.from === 'front' ? t - left : t - left / 2,
            bottom: r.body.from === 'front' ? 0 : r.body.from === 'back' ? left : left / 2,
          },
        ]
      : [];
    const holes: Record<string, unknown>[] = [];
    if (r.hole === 'reamed') holes.push({ name: 'pin', purpose: 'reamed', centre: far, diameter: 3 });
    if (r.hole === 'clearance') holes.push({ name: 'pin', purpose: 'clearance', centre: far, diameter: 3.2 });
    if (r.hole === 'tapped') holes.push({ name: 'pin', purpose: 'tapped', centre: far, thread: 'M3' });
    if (r.hole === 'counterbored') {
      holes.push({
        name: 'pin',
        purpose: 'counterbored',
        centre: far,
        diameter: 2.5,
        boreDiameter: 4.5,
        boreDepth: 1,
      });
    }
    return {
      format: 'leverwright-part',
      version: 1,
      name: 'Random lever',
      unit: 'mm',
      bar: {
        length: r.big + far[0]! + r.small + 2 * r.margin,
        width: high - low + 2 * r.margin,
        thickness: t,
        material: r.material,
        corner: [-r.big - r.margin, low - r.margin],
        sawn: r.margin < 9 ? r.sawn : 0,
      },
      ends: [
        { name: 'big', centre: [0, 0], radius: r.big },
        { name: 'small', centre: far, radius: r.small },
      ],
      arms: [{ from: 'big', to: 'small' }],
      forks: r.fork
        ? [
            {
              name: 'fork',
              mouth: [-r.big, 0],
              direction: 0,
              width: r.fork.width,
              depth: r.fork.depth,
              ...(r.fork.square ? { root: 'square', cornerRadius: 1.5 } : { root: 'round' }),
            },
          ]
        : [],
      slots: r.slot
        ? [
            {
              name: 'slot',
              from: [r.big * 0.9 + 2, 0],
              to: [r.big * 0.9 + 2 + r.slot.length, 0],
              width: r.slot.width,
              ...(r.slot.blind ? { depth: 1 } : {}),
            },
          ]
        : [],
      holes,
      lands,
    };
  });
