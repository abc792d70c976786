import { signal } from '@preact/signals';

/** The pass under the slider: its place in the film. */
export const shownStill = signal(0);
/** The setup that is shown in the Hold stage, by number. */
export const shownSetup = signal(1);
