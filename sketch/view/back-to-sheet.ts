/** The keyboard goes back to the sheet when what it was in is gone, so that the next key draws and Tab goes on there. */
export const backToSheet = (): void => {
  document.getElementById('drawing')?.focus({ preventScroll: true });
};
