import type { PlannedPart } from '../chain.ts';
import { comparePeeling, type PeelComparison } from '../compare-peeling.ts';

/** What the worker is asked: a job step, and the angle in degrees where none is stated. */
export interface PeelAsk {
  readonly planned: PlannedPart;
  readonly step: string;
  readonly engagement: number;
}

/** The comparison, or a sentence that says why there is none. */
export type PeelNews = PeelComparison | string;

/** Plans, writes and surveys a job step both ways. The page ends this worker to stop it. */
self.onmessage = (event: MessageEvent<PeelAsk>): void => {
  const { planned, step, engagement } = event.data;
  const tell = (news: PeelNews): void => self.postMessage(news);
  try {
    tell(comparePeeling(planned, step, engagement));
  } catch (error) {
    tell(error instanceof Error ? error.message : String(error));
  }
};
