import { getIn, type JsonPath } from '../../sketch/draft/json.ts';
import { NumberField } from '../../sketch/view/number-field.tsx';
import { machineDocument, putMachine } from './machine-shop.ts';

/** One figure of the machine's file, written in place. */
export const Figure = ({ path, label }: { readonly path: JsonPath; readonly label: string }) => {
  const value = getIn(machineDocument(), path);
  return (
    <NumberField
      label={label}
      value={typeof value === 'number' ? value : ''}
      step={1}
      put={(v) =>
        typeof v === 'number' ? putMachine(path, v) : { ok: false, message: 'A number is wanted here.' }
      }
      testId={`machine.${path.join('.')}`}
    />
  );
};
