/** Keeps the screen awake while `wanted`, where the browser can; it lets go of it when the page is hidden. */
export const keepAwake = (): (() => void) => {
  let lock: WakeLockSentinel | null = null;
  let wanted = true;
  const ask = async (): Promise<void> => {
    if (!wanted || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
    try {
      lock = await navigator.wakeLock.request('screen');
      if (!wanted) await lock.release();
    } catch {
      // A tired battery may refuse; the screen then sleeps as it always does.
    }
  };
  const shown = (): void => void ask();
  document.addEventListener('visibilitychange', shown);
  void ask();
  return () => {
    wanted = false;
    document.removeEventListener('visibilitychange', shown);
    void lock?.release();
  };
};
