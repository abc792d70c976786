import { getIn, type JsonPath } from '../../sketch/draft/json.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import { machineDocument, putMachine } from './machine-shop.ts';

interface FigureProps {
  readonly path: JsonPath;
  readonly label: string;
  /** Step of the arrow keys. */
  readonly step?: number;
  /** What stands where the file says nothing. */
  readonly usual?: number;
}

/** One figure of the machine's file, written in place. */
export const Figure = ({ path, label, step = 1, usual }: FigureProps) => {
  const value = getIn(machineDocument(), path);
  return (
    <NumberField
      label={label}
      value={typeof value === 'number' ? value : (usual ?? '')}
      step={step}
      put={(v) =>
        typeof v === 'number' ? putMachine(path, v) : { ok: false, message: 'A number is wanted here.' }
      }
      testId={`machine.${path.join('.')}`}
    />
  );
};
