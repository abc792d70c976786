import { adviseShown } from '../advice.ts';
import type { AdviceAsk, AdviceNews } from './advice.ts';

/** Seeks a better web, depth and order. The page ends this worker to stop it. */
self.onmessage = ({ data }: MessageEvent<AdviceAsk>): void => {
  const tell = (news: AdviceNews): void => self.postMessage(news);
  try {
    tell({ kind: 'advice', ...adviseShown(data.planned, data.across) });
  } catch (error) {
    tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
