import { signal } from '@preact/signals';

/** The five stages of the work, as they stand on the rail. */
export const STAGES = ['Draw', 'Hold', 'Cut', 'Prove', 'Take away'] as const;
export type Stage = (typeof STAGES)[number];
export type Mark = 'untouched' | 'working' | 'fine' | 'look here';

/** The stage that is inked on the drawing and written on the card. */
export const stage = signal<Stage>('Draw');

/** Whether the drawer is pulled out, on a phone. */
export const drawerOpen = signal(false);
