import { leftBehind, openLeftBehind, throwAway } from './keeping.ts';
import { whenText } from './kept.ts';

/** Parts that other windows left behind unsaved: each can be opened or thrown away. */
export const LeftBehindList = () => {
  const list = leftBehind.value;
  if (list.length === 0) return null;
  return (
    <details class="left-behind">
      <summary>
        {list.length === 1 ? 'One more part is' : `${list.length} more parts are`} kept from other windows
      </summary>
      <ul>
        {list.map((l) => (
          <li key={l.place} data-left-behind={l.kept.name}>
            {l.kept.name}, left {whenText(l.kept.at, Date.now())}{' '}
            <button
              type="button"
              class="quiet"
              aria-label={`Open ${l.kept.name}, left ${whenText(l.kept.at, Date.now())}`}
              onClick={() => void openLeftBehind(l)}
            >
              open
            </button>{' '}
            <button
              type="button"
              class="quiet"
              aria-label={`Throw ${l.kept.name} away, left ${whenText(l.kept.at, Date.now())}`}
              onClick={() => void throwAway(l.place)}
            >
              throw away
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
};
