import type { Part } from '../../sketch/part/part.ts';
import type { PlannedSetup } from '../../toolpath/passes/pass.ts';

/** A part's name as a file name: small letters, figures and hyphens. */
export const slug = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 60)
    .replace(/^-+|-+$/g, '') || 'part';

/** Name of the file that holds one setup's program. */
export const programFileName = (part: Pick<Part, 'name'>, setup: Pick<PlannedSetup, 'setup'>): string =>
  `${slug(part.name)}-setup-${setup.setup.number}.ngc`;
