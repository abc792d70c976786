/** A time in seconds as people say it: about so many minutes, or hours and minutes. */
export const timeText = (seconds: number): string => {
  const minutes = Math.max(1, Math.round(seconds / 60));
  return minutes < 60
    ? `about ${minutes} min`
    : `about ${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
};
