import { advise, type PlannedPart } from '../chain.ts';
import type { AdviceNews } from './advice.ts';

/** Seeks a better web, depth and order. The page ends this worker to stop it. */
self.onmessage = (event: MessageEvent<PlannedPart>): void => {
  const tell = (news: AdviceNews): void => self.postMessage(news);
  try {
    tell({ kind: 'advice', advice: advise(event.data) });
  } catch (error) {
    tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
