import type { Finding, Unit } from '../../sketch/part/part.ts';
import { mmPer, smallText, unitSign } from '../../sketch/part/units.ts';
import type { RouteDocument } from '../../toolpath/route/document.ts';
import { type EngagementProposal, proposalSentence } from '../../toolpath/survival/engagement-proposal.ts';
import type { OrderRow } from '../../toolpath/survival/orders.ts';
import type { Recommendation } from '../../toolpath/survival/recommend.ts';
import type { SqueezeRow } from '../../toolpath/survival/squeeze-route.ts';
import type { SurvivalRow } from '../../toolpath/survival/survival-rows.ts';
import { holdCell, ringsCell } from './cells.ts';
import { movementCell } from './movement-words.ts';
import { orderName, orderReasons } from './order-words.ts';
import { squeezeLines } from './squeeze-lines.ts';

/** Estimates of force, bending and hold for every pass, as they are written to a file. */
export interface Survival {
  /** Most that the work may move, or a pass leave on a finished wall or floor, mm. */
  readonly tolerance_mm: number;
  readonly assumptions: readonly string[];
  readonly findings: readonly Finding[];
  readonly passes: readonly SurvivalRow[];
  /** What the jaws do to the work in each setup, as it is put in and when the setup is done. */
  readonly squeeze: readonly SqueezeRow[];
}

/** What would be better, as it is written to a file. */
export interface Advice {
  /** The part file's `route` as it would be; null where there is nothing to better. */
  readonly route: RouteDocument | null;
  readonly reasons: readonly string[];
  readonly kept: readonly string[];
  /** What was tried as well and is no better. */
  readonly left: readonly string[];
  readonly movement_mm: number;
  readonly time_s: number;
  readonly enough: boolean;
  readonly orders: readonly {
    readonly name: string;
    /** Other orders that come out alike. */
    readonly alike: readonly string[];
    readonly refused: string | null;
    readonly time_s: number;
    readonly movement_mm: number;
    readonly tine_mm: number;
    /** How far the jaws hold a fork closed while it is cut, and while its web is released. */
    readonly forkCloses_mm: number;
    readonly forkReleased_mm: number;
    readonly holdFactor: number | null;
  }[];
  /** What tells the orders apart, in sentences. */
  readonly why: readonly string[];
  /** How deep each job step may bury its cutter, by how far the work moves as the route is. */
  readonly limits: readonly {
    readonly step: string;
    readonly movement_mm: number;
    /** Null where none is needed, or none does. */
    readonly angle_deg: number | null;
    /** A smaller one, where its own has no room to go round. */
    readonly cutter: string | null;
    readonly says: string;
  }[];
}

export const adviceOf = (
  found: Recommendation,
  orders: readonly OrderRow[],
  unit: Unit,
  limits: { readonly proposals: readonly EngagementProposal[]; readonly tolerance: number } | null = null,
): Advice => ({
  route: found.route,
  reasons: found.reasons,
  kept: found.kept,
  left: found.left,
  movement_mm: round(found.after.movement, 4),
  time_s: round(found.after.seconds, 0),
  enough: found.enough,
  orders: orders.map((row) => ({
    name: row.name,
    alike: row.alike,
    refused: row.refused,
    time_s: round(row.seconds, 0),
    movement_mm: round(row.movement, 4),
    tine_mm: round(row.tine, 4),
    forkCloses_mm: round(row.closes, 4),
    forkReleased_mm: round(row.released, 4),
    holdFactor: Number.isFinite(row.hold) ? round(row.hold, 1) : null,
  })),
  why: orderReasons(orders, unit),
  limits: (limits?.proposals ?? []).map((one) => ({
    step: one.step,
    movement_mm: round(one.movement, 4),
    angle_deg: 'angle' in one ? one.angle : null,
    cutter: one.kind === 'limit' ? one.cutter : null,
    says: proposalSentence(one, limits?.tolerance ?? 0, unit),
  })),
});

const round = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** The survey in lines for a terminal: one to a pass, with what it assumes. */
export const survivalLines = ({ passes, squeeze, assumptions }: Survival, unit: Unit): readonly string[] => {
  const sign = unitSign(unit);
  const wide = passes.reduce((most, p) => Math.max(most, p.pass.length), 4);
  const head = ['force', 'power', 'moves', 'wall', 'floor', 'web', 'hold', 'rings', 'teeth'];
  const units = ['N', 'W', sign, sign, sign, sign, 'times', 'Hz', 'Hz'];
  const line = (setup: string, pass: string, cells: readonly string[]): string =>
    `  ${setup} ${pass.padEnd(wide)}${cells.map((cell) => cell.padStart(8)).join('')}`;
  return [
    'Will it survive? Estimates, pass by pass:',
    line(' ', '', head),
    line(' ', '', units),
    ...passes.map((p) =>
      line(String(p.setup), p.pass, [
        String(Math.max(p.force_N, p.thrust_N)),
        String(p.power_W),
        ...[p.movement_mm, ...leftFigures(p)].map((mm) => (mm === null ? '–' : movementCell(mm, unit))),
        cell(p.webLeft_mm === null ? null : p.webLeft_mm / mmPer(unit), unit === 'mm' ? 2 : 3),
        holdCell(p.holdFactor),
        ringsCell(p.frequency_Hz),
        String(p.toothPassing_Hz),
      ]),
    ),
    ...squeezeLines(squeeze, unit),
    ...assumptions.map((sentence) => `  ${sentence}`),
  ];
};

/** What a pass leaves on the finished wall and floor, mm; null where it leaves an allowance or none. */
export const leftFigures = ({
  finishes,
  wallError_mm,
  floorError_mm,
}: SurvivalRow): readonly [number | null, number | null] => [
  finishes.includes('wall') ? wallError_mm : null,
  finishes.includes('floor') ? floorError_mm : null,
];

const cell = (value: number | null, decimals: number): string =>
  value === null ? '–' : value.toFixed(decimals);

/** An order's figures in a row of words; of forks only where there are any. */
const orderFigures = (o: Advice['orders'][number], unit: Unit, forked: boolean): string =>
  [
    `work moves ${smallText(o.movement_mm, unit)}`,
    ...(o.tine_mm > 0 ? [`tines ${smallText(o.tine_mm, unit)}`] : []),
    ...(forked ? [`jaws close the fork ${smallText(o.forkCloses_mm, unit)} as it is cut`] : []),
    ...(!forked
      ? []
      : o.forkReleased_mm > 0
        ? [`${smallText(o.forkReleased_mm, unit)} as its web goes`]
        : ['no web to go']),
    ...(o.holdFactor === null ? [] : [`hold ${o.holdFactor} times`]),
    `about ${Math.max(1, Math.round(o.time_s / 60))} min`,
  ].join(', ');

/** The orders side by side, limits and the recommendation, in lines for a terminal. An order that has no other is not said. */
export const adviceLines = (advice: Advice, unit: Unit): readonly string[] => {
  const { orders, why, limits, reasons, kept, left, route } = advice;
  const forked = orders.some((o) => o.forkCloses_mm > 0 || o.forkReleased_mm > 0);
  return [
    ...(orders.length > 1 ? ['Orders side by side (estimates):'] : []),
    ...(orders.length > 1
      ? orders.map((o) => `  ${orderName(o)}: ${o.refused ?? orderFigures(o, unit, forked)}`)
      : []),
    ...why.map((reason) => (orders.length > 1 ? `  ${reason}` : reason)),
    ...(limits.length > 0 ? ['How deep the cutter may be buried, the route as it is (estimates):'] : []),
    ...limits.map(({ says }) => `  ${says}`),
    route === null
      ? 'Recommended: leave the route as it is.'
      : 'Recommended (estimates; put into the part file as “route”):',
    ...reasons.map((reason) => `  ${reason}`),
    ...(kept.length > 0 ? [`  Your own choices were left alone: ${kept.join('; ')}.`] : []),
    ...(route === null ? [] : [`  "route": ${JSON.stringify(route)}`]),
    ...(left.length > 0 ? ['Tried as well, and left (estimates):'] : []),
    ...left.map((sentence) => `  ${sentence}`),
  ];
};
