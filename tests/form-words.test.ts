import { expect, test } from 'vitest';
import { standardProfile } from '../toolpath/machine/default-profile.ts';
import { readProfile, writeProfile } from '../toolpath/machine/profile-document.ts';
import { applyRouteDocument } from '../toolpath/route/document.ts';
import { proposeRoute } from '../toolpath/route/propose.ts';
import { formWords } from '../toolpath/view/form-words.ts';
import { samplePart } from './samples.ts';

/** What a form refuses is said in its own words, without the place in a file. */

const part = samplePart('vent-latch-lever');
const { route } = proposeRoute(part, standardProfile);
const routeFault = (wish: unknown): string =>
  formWords(applyRouteDocument(route, wish, part).findings.find((f) => f.severity === 'error')!.message);
const machineFault = (change: (document: Record<string, Record<string, unknown>>) => void): string => {
  const document = JSON.parse(writeProfile(standardProfile));
  change(document);
  const reading = readProfile(JSON.stringify(document));
  if (reading.ok) throw new Error('the machine is not refused');
  return formWords(reading.findings[0]!.message);
};

test('a figure of the hold, of a job step or of the vice', () => {
  expect(routeFault({ setups: { 1: { grip: -1 } } })).toBe('More than 0 is wanted.');
  expect(routeFault({ adjust: { fork: { web: -0.1 } } })).toBe('At least 0 is wanted.');
  expect(routeFault({ adjust: { fork: { engagement: 200 } } })).toBe('At most 120 is wanted.');
  expect(routeFault({ setups: { 1: { grip: 'all' } } })).toBe('This should be a number.');
  expect(machineFault((d) => Object.assign(d.vice!, { clamp: 0 }))).toBe('More than 0 is wanted.');
});

test('sentences that name a job step or a cutter stay as they are', () => {
  for (const said of [
    'fork: passes of 0.01 mm only rub; take 0.02 mm or more.',
    'Setup 1: the jaws close on nothing.',
    'drill 4.8: pecks of 0.05 mm only wear the drill; take 0.1 mm or more.',
    '4.8 mm drill: "diameter" is missing.',
  ]) {
    expect(formWords(said)).toBe(said);
  }
});
