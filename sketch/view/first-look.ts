/** A window that nobody looks at draws nothing: then it is not waited for longer than this, ms. */
const PATIENCE = 400;

/** Answers once what is now to be drawn is on the screen. */
export const afterDrawing = (): Promise<void> =>
  new Promise((done) => {
    const late = setTimeout(done, PATIENCE);
    // The frame itself is made after what is asked for it; what comes after that is a task of its own.
    requestAnimationFrame(() => {
      clearTimeout(late);
      setTimeout(done);
    });
  });

/** Answers when the page has nothing better to do, or soon. */
export const atLeisure = (): Promise<void> =>
  new Promise((done) => {
    if (typeof requestIdleCallback === 'function') requestIdleCallback(() => done(), { timeout: PATIENCE });
    else setTimeout(done);
  });
