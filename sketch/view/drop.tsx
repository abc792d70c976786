import { signal } from '@preact/signals';
import type { FileHandle } from './file-access.ts';
import type { Store } from './store.ts';
import { takeFile } from './taking-in.ts';

/** Whether files are held over the page. */
const over = signal(false);

type Item = DataTransferItem & { getAsFileSystemHandle?(): Promise<FileSystemHandle | null> };

/** Takes files that are dropped anywhere on the page: part, drawing or picture. */
export const listenForDrops = (store: Store): void => {
  const holds = (e: DragEvent): boolean => e.dataTransfer?.types.includes('Files') ?? false;
  window.addEventListener('dragover', (e) => {
    if (!holds(e)) return;
    e.preventDefault();
    if (e.dataTransfer) e.dataTransfer.dropEffect = 'copy';
    over.value = true;
  });
  window.addEventListener('dragleave', (e) => {
    if (e.relatedTarget === null) over.value = false;
  });
  window.addEventListener('drop', (e) => {
    if (!holds(e)) return;
    e.preventDefault();
    over.value = false;
    const file = e.dataTransfer?.files[0];
    if (!file) return;
    const item = [...(e.dataTransfer?.items ?? [])].find((i) => i.kind === 'file') as Item | undefined;
    void handleOf(item).then((handle) => takeFile(store, file, handle));
  });
};

/** The file's place on the disk, where the browser tells it. */
const handleOf = async (item: Item | undefined): Promise<FileHandle | undefined> => {
  try {
    const handle = await item?.getAsFileSystemHandle?.();
    return handle?.kind === 'file' ? (handle as FileHandle) : undefined;
  } catch {
    return undefined;
  }
};

export const DropHere = () =>
  over.value ? (
    <div class="drop-here" aria-hidden="true">
      Let go to open it: a part, a drawing (DXF, SVG) or a picture to draw over
    </div>
  ) : null;
