/** A time as people say it: 40 s, 12 min, 1 h 05 min. */
export const minutes = (seconds: number): string => {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  const whole = Math.round(seconds / 60);
  if (whole < 60) return `${whole} min`;
  return `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, '0')} min`;
};
