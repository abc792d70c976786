import type { Fault } from './motion.ts';

/**
 * Every fault the reader can find, and how grave it is. An error: the standard forbids it, or what the machine would
 * do is not known. A warning: allowed, or harmless, but it would surprise.
 */
export const FAULTS = {
  'illegal-character': 'error',
  'comment-unclosed': 'error',
  'comment-nested': 'error',
  'word-without-number': 'error',
  'unknown-letter': 'error',
  'rotary-axis': 'error',
  'parameter-or-expression': 'error',
  'number-too-large': 'error',
  'repeated-word': 'error',
  'same-group': 'error',
  'too-many-m-words': 'error',
  'unknown-code': 'error',
  'unsupported-code': 'error',
  'stray-word': 'error',
  'axis-without-motion': 'error',
  'feed-missing': 'error',
  'bad-value': 'error',
  'position-unknown': 'error',
  'work-offset-changed': 'error',
  'arc-without-end': 'error',
  'arc-without-centre': 'error',
  'arc-mixed-format': 'error',
  'arc-zero-radius': 'error',
  'arc-radius-mismatch': 'error',
  'arc-radius-too-small': 'error',
  'arc-radius-closed': 'error',
  'cycle-incomplete': 'error',
  'cycle-upside-down': 'error',
  'cycle-too-many-pecks': 'error',
  'motion-after-end': 'error',
  'no-end': 'error',
  'stray-percent': 'error',
  'program-too-long': 'error',
  'line-endless': 'error',
  'percent-unclosed': 'warning',
  'words-after-end': 'warning',
  'line-too-long': 'warning',
  'line-number': 'warning',
  'block-delete': 'warning',
  'comment-semicolon': 'warning',
  'byte-order-mark': 'warning',
  'outside-standard': 'warning',
  'motion-without-axis': 'warning',
  'spindle-stopped': 'warning',
  'spindle-backwards': 'error',
  'no-tool': 'warning',
  'arc-ill-conditioned': 'warning',
  'length-offset': 'warning',
  'machine-coordinates': 'warning',
  'units-not-stated': 'warning',
  'units-changed': 'warning',
  'height-unknown': 'warning',
} as const satisfies Record<string, Fault['severity']>;

export type FaultCode = keyof typeof FAULTS;

/** Says that a fault stands at the line being read. */
export type Report = (code: FaultCode, message: string) => void;

/** Of one kind of fault no more than this many are told one by one; the rest are counted. */
const MOST_OF_A_KIND = 100;

/** Gathers faults so that a hostile file of a million bad lines stays small. */
export const faultList = () => {
  const faults: Fault[] = [];
  const count = new Map<FaultCode, { seen: number; line: number }>();
  return {
    add(code: FaultCode, message: string, line: number): void {
      const tally = count.get(code) ?? { seen: 0, line };
      tally.seen++;
      tally.line = line;
      count.set(code, tally);
      if (tally.seen <= MOST_OF_A_KIND) faults.push({ code, message, line, severity: FAULTS[code] });
    },
    /** All of them in the order of the text, with a closing word for each kind that was cut short. */
    finish(): Fault[] {
      for (const [code, { seen, line }] of count) {
        if (seen <= MOST_OF_A_KIND) continue;
        const message = `${seen - MOST_OF_A_KIND} more faults of this kind (${code}), the last in line ${line}.`;
        faults.push({ code, message, line, severity: FAULTS[code] });
      }
      return faults.sort((a, b) => a.line - b.line);
    },
  };
};
