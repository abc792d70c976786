import type { Material } from '../../sketch/part/part.ts';
import type { MachineProfile } from '../machine/profile.ts';
import { constantsOf, materialData } from './materials.ts';
import { FIRM, FRICTION } from './pass-load.ts';
import type { SurvivalTerms } from './pass-survival.ts';
import { ASSUMPTIONS } from './verdict.ts';
import { clampFromTorque } from './vice-hold.ts';

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

/** What stands beside every figure: what all estimates take for granted, how the vice is held, what its owner changed. */
export const assumptionsFor = (
  profile: Pick<MachineProfile, 'vice' | 'materials'>,
  material: Material,
): readonly string[] => {
  const { vice, materials } = profile;
  const { clamp = FIRM, friction = FRICTION } = machineTerms(profile, material);
  const how =
    vice.clamp !== undefined
      ? 'as the machine file says'
      : vice.torque !== undefined
        ? `by ${vice.torque} N·m on its handle`
        : 'firmly by hand';
  const rub =
    vice.friction === undefined ? 'steel on steel, dry' : `in place of the usual ${FRICTION}, by the file`;
  const changed = constantsOf(material, materials?.[material]).filter((c) => c.own);
  return [
    ...ASSUMPTIONS,
    `The vice is done up to about ${clamp.toFixed(0)} N, ${how}; friction ${friction}, ${rub}.`,
    ...changed.map(
      ({ name, unit, value, usual, source }) =>
        `Of ${material} the machine file says: ${name.charAt(0).toLowerCase()}${name.slice(1)} ${[value, unit].join(' ').trim()} in place of the usual ${usual} (${source}).`,
    ),
  ];
};
