/** Above this no tooth comes by as often, and nobody hears it, Hz. */
const HEARD = 20_000;

/** A factor of the hold in a cell of a table. */
export const holdCell = (factor: number | null): string => {
  if (factor === null) return '–';
  if (factor > 99) return '> 99';
  return factor < 0.005 ? '< 0.01' : factor < 0.95 ? factor.toFixed(2) : factor.toFixed(1);
};

/** A natural frequency in a cell of a table, Hz; of one above 20 kHz only that it is. */
export const ringsCell = (frequency: number | null): string =>
  frequency === null ? '–' : frequency > HEARD ? '> 20k' : frequency.toFixed(0);
