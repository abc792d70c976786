import { writeDxf } from '../exchange/dxf-out.ts';
import { writeSvg } from '../exchange/svg-out.ts';
import type { Part } from '../part/part.ts';
import { FileField } from './file-field.tsx';
import { DRAWINGS, fileStem, PICTURES, saveText } from './files.ts';
import { saveAnew } from './saving.ts';
import type { Store } from './store.ts';

/** Ways in for drawings and pictures, and ways out for the plan, beside the part file's own. */
export const InAndOut = ({ store }: { readonly store: Store }) => {
  const opened = store.opened.value;
  const part = opened?.part;
  const empty = !part || part.ends.length + part.plates.length === 0;
  return (
    <details class="in-and-out">
      <summary>Bring in, take out</summary>
      <div class="file-row">
        <FileField store={store} types={[DRAWINGS]} words="Bring in a drawing" label="Bring in a drawing" />
        <FileField
          store={store}
          types={[PICTURES]}
          words="Lay a picture under"
          label="Lay a picture under the sheet"
        />
      </div>
      <div class="file-row">
        <button type="button" disabled={!opened} onClick={() => void saveAnew(store)}>
          Save as …
        </button>
        <button type="button" disabled={empty} onClick={() => part && takeOut(part, 'dxf')}>
          Take out DXF
        </button>
        <button type="button" disabled={empty} onClick={() => part && takeOut(part, 'svg')}>
          Take out SVG
        </button>
      </div>
      <p class="aside">
        Drawings are DXF or SVG: the plan, 1:1, in true arcs. Heights, threads and reamed sizes are only in
        the part file.
      </p>
    </details>
  );
};

const takeOut = (part: Part, form: 'dxf' | 'svg'): void => {
  const stem = fileStem(part.name);
  if (form === 'dxf') saveText(`${stem}.dxf`, writeDxf(part), 'image/vnd.dxf');
  else saveText(`${stem}.svg`, writeSvg(part), 'image/svg+xml');
};
