import { notices, takeDown } from './notices.ts';

/** What the page has to say, each line with what can be done about it and a way to put it away. */
export const NoticeLines = () => (
  <div class="notices" role="status">
    {notices.value.map((n) => (
      <div
        key={n.about}
        role={n.grave ? 'alert' : undefined}
        class={n.grave ? 'trouble' : 'quiet-line'}
        data-notice={n.about}
      >
        {n.words}{' '}
        {n.actions?.map((a) => (
          <button key={a.words} type="button" class="quiet" onClick={a.act}>
            {a.words}
          </button>
        ))}
        <button
          type="button"
          class="quiet"
          aria-label={`Put away: ${n.words}`}
          onClick={() => takeDown(n.about)}
        >
          put away
        </button>
      </div>
    ))}
  </div>
);
