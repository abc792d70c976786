import { tell } from './notices.ts';

/** Where the build puts the worker that keeps the page for a workshop without a network. */
const WORKER = new URL('sw.js', document.baseURI);

/**
 * Has the browser keep the page, so that it opens without a network after the first visit. A new version is put by and
 * offered by a line; it comes into use when that is wished, or when the last window is closed. `kept` says whether
 * loading the page anew loses nothing.
 */
export const keepPage = async (kept: () => boolean): Promise<void> => {
  if (!('serviceWorker' in navigator)) return;
  let wished = false;
  const first = navigator.serviceWorker.controller === null;
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    // The first worker of all takes over a page that is already of its version.
    if (first && !wished) return;
    // Another window took up the new version: the files this one was made of are gone.
    if (wished || kept()) location.reload();
    else
      offer(
        'Another window has taken up a new version of Leverwright. Save the part, then load this page anew.',
      );
  });
  const offer = (words: string, act = (): void => location.reload()): void =>
    tell({ about: 'version', grave: false, words, actions: [{ words: 'use it now', act }] });
  const waits = (worker: ServiceWorker): void =>
    offer(
      'A new version of Leverwright is here. It comes into use when you wish, or after all its windows are closed.',
      () => {
        wished = true;
        worker.postMessage({ type: 'SKIP_WAITING' });
      },
    );
  try {
    const registration = await navigator.serviceWorker.register(WORKER, { updateViaCache: 'none' });
    if (registration.waiting && navigator.serviceWorker.controller) waits(registration.waiting);
    registration.addEventListener('updatefound', () => {
      const coming = registration.installing;
      coming?.addEventListener('statechange', () => {
        if (coming.state === 'installed' && navigator.serviceWorker.controller) waits(coming);
      });
    });
  } catch {
    // A page without encryption, or a browser that keeps nothing: it works as long as the network does.
  }
};
