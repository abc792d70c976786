import type { Material, Unit } from '../../sketch/part/part.ts';
import { lengthText } from '../../sketch/part/units.ts';
import type { MachineProfile } from '../machine/profile.ts';
import type { Hold, PlateHold } from '../route/route.ts';
import { constantsOf, materialData } from './materials.ts';
import { screwForces } from './other-holds.ts';
import { FIRM, FRICTION } from './pass-load.ts';
import type { SurvivalTerms } from './pass-survival.ts';
import { usualAssumptions } from './verdict.ts';
import { clampFromTorque, SCREW_LEAD } from './vice-hold.ts';

/**
 * What a machine file says that the estimates go by: how hard the vice is done up, its friction, and the owner's figures
 * of the material. What it does not say is left out, and the usual stands.
 */
export const machineTerms = (
  { vice, materials }: Pick<MachineProfile, 'vice' | 'materials'>,
  material: Material,
): Pick<SurvivalTerms, 'clamp' | 'friction' | 'cutting' | 'elastic'> => {
  const clamp = vice.clamp ?? (vice.torque === undefined ? undefined : clampFromTorque(vice.torque));
  const own = materials?.[material];
  return {
    ...(clamp === undefined ? {} : { clamp }),
    ...(vice.friction === undefined ? {} : { friction: vice.friction }),
    ...(own === undefined ? {} : materialData(material, own)),
  };
};

/**
 * What stands beside every figure: what all estimates take for granted, how the work is held (in a vice where nothing
 * is said), and what the machine's owner changed.
 */
export const assumptionsFor = (
  profile: Pick<MachineProfile, 'vice' | 'materials'>,
  material: Material,
  holds: readonly Hold[] = [],
  unit: Unit = 'mm',
): readonly string[] => {
  const { vice, materials } = profile;
  const { clamp = FIRM, friction = FRICTION } = machineTerms(profile, material);
  const how =
    vice.clamp !== undefined
      ? 'as the machine file says'
      : vice.torque !== undefined
        ? `by ${vice.torque} N·m on its handle (a screw of ${lengthText(SCREW_LEAD, unit)} lead that keeps a quarter of the work, values from memory)`
        : 'firmly by hand';
  const rub =
    vice.friction === undefined ? 'steel on steel, dry' : `in place of the usual ${FRICTION}, by the file`;
  const changed = constantsOf(material, materials?.[material]).filter((c) => c.own);
  return [
    ...usualAssumptions(unit),
    ...(holds.length === 0 || holds.some((hold) => hold.kind === 'vice')
      ? [`The vice is done up to about ${clamp.toFixed(0)} N, ${how}; friction ${friction}, ${rub}.`]
      : []),
    ...new Set(holds.flatMap((hold) => (hold.kind === 'plate' ? [plateSentence(hold, friction)] : []))),
    ...(holds.some((hold) => hold.kind === 'vice' && (hold.packing ?? []).length > 0)
      ? ['Packing is taken to be as stiff as the work; it presses and never pulls.']
      : []),
    ...changed.map(
      ({ name, unit, value, usual, source }) =>
        `Of ${material} the machine file says: ${name.charAt(0).toLowerCase()}${name.slice(1)} ${[value, unit].join(' ').trim()} in place of the usual ${usual} (${source}).`,
    ),
  ];
};

const plateSentence = ({ fastening }: PlateHold, friction: number): string => {
  switch (fastening.kind) {
    case 'tape':
      return `Tape and glue are taken to stand ${fastening.shear} MPa sideways and ${fastening.peel} MPa pulled off, on clean flat faces.`;
    case 'screws':
      return `Each ${fastening.thread} screw is of class 8.8 and done up to about ${screwForces(fastening.thread).preload.toFixed(0)} N; friction ${friction}.`;
    case 'clamps':
      return `Each clamp presses with about ${fastening.force.toFixed(0)} N; friction ${friction}.`;
  }
};
