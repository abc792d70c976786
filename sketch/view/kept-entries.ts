import { createShelf } from './shelf.ts';

/**
 * The page's shelf, and what lies on it: asked for before anything else of the page begins, for the browser takes as
 * long to answer as the rest takes to start.
 */
export const pageShelf = createShelf();
export const keptEntries = pageShelf.all();
// Whoever awaits it hears of a fault; until then nobody need.
keptEntries.catch(() => undefined);
