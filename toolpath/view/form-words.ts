/** Where a fault stands in a file, as the readers of files put it before their words: `vice.clamp: `, `route.setups.1.grip `. */
const PLACE = /^[a-z]\w*(?:\.[^.:]+)+?(?:: | (?=should |is ))/i;

/** A fault of a file as a form says it: what is wanted, and not where that would stand in the file. */
export const formWords = (message: string): string => {
  const said = message.replace(PLACE, '');
  if (said === message) return message;
  const words = /^(should|is) /.test(said) ? `This ${said}` : said;
  const whole = /[.!?]$/.test(words) ? words : `${words}.`;
  return whole.charAt(0).toUpperCase() + whole.slice(1);
};
