import type { Finding } from '../../sketch/part/part.ts';
import { hasErrors } from '../../sketch/part/severity.ts';
import { stage } from '../../sketch/view/stage.ts';
import { applyRouteDocument } from '../../toolpath/route/document.ts';
import { CutPanel } from '../../toolpath/view/cut-panel.tsx';
import { HoldPanel } from '../../toolpath/view/hold-panel.tsx';
import { shownSetup, shownStill } from '../../toolpath/view/showing.ts';
import { PeelPanel } from './peel-panel.tsx';
import { pickedFinding } from './picking.ts';
import { ProvePanel } from './prove-panel.tsx';
import { SurvivePanel } from './survive-panel.tsx';
import { TakeAwayPanel } from './take-away-panel.tsx';
import type { ShopProps } from './workshop.tsx';

/** What must be drawn before there is anything to hold, cut or prove. */
const Wanting = ({ findings }: { readonly findings: readonly Finding[] }) => (
  <>
    <p>The drawing is not a whole part yet:</p>
    <ul>
      {findings.map((f) => (
        <li key={f.message}>{f.message}</li>
      ))}
    </ul>
  </>
);

/** The job card's words in the stages after Draw. */
export const StagePanel = (p: ShopProps) => {
  const { store, bench } = p;
  const made = bench.work.value;
  const opened = store.opened.value;
  if (opened && opened.wanting.length > 0) return <Wanting findings={opened.wanting} />;
  if (!made || !opened) return <p class="aside">{bench.progress.value ?? 'No part is open.'}</p>;
  // The file's wishes are shown as they stand, while the passes they lead to are still being made.
  const wished = applyRouteDocument(made.proposed, opened.document.route, made.part);
  const work = { ...made, route: wished.route };
  const still = p.stills.value[shownStill.value] ?? null;
  switch (stage.value) {
    case 'Draw':
      return null;
    case 'Hold':
      return (
        <HoldPanel
          store={store}
          work={work}
          machines={p.machines}
          shown={shownSetup.value}
          onShow={(n) => {
            shownSetup.value = n;
          }}
        />
      );
    case 'Cut':
      return (
        <CutPanel
          store={store}
          work={work}
          still={still}
          onShow={(name) => {
            const first = p.stills.value.find((s) => s.step.step.name === name);
            if (first) p.onShow(first.index);
          }}
        />
      );
    case 'Prove':
      return (
        <>
          <ProvePanel
            proof={bench.judged.value}
            progress={bench.progress.value}
            proving={bench.proving.value}
            stopped={bench.stopped.value}
            onStop={bench.stopProof}
            onAgain={bench.proveAgain}
            foreign={bench.foreign.value}
            setups={made.plan.setups.map((s) => s.setup.number)}
            held={hasErrors(made.findings)}
            unit={opened.part.unit}
            picked={pickedFinding.value}
            onPick={(i) => {
              pickedFinding.value = i;
            }}
          />
          <SurvivePanel
            survey={p.survey}
            adviser={p.adviser}
            store={store}
            bench={bench}
            work={made}
            still={still}
            onShow={p.onShow}
          />
          <PeelPanel store={store} work={made} passes={p.survey.state.value?.passes ?? []} />
        </>
      );
    case 'Take away':
      return (
        <TakeAwayPanel
          bench={bench}
          survey={p.survey}
          adviser={p.adviser}
          work={work}
          still={still}
          stills={p.stills.value}
          onShow={p.onShow}
        />
      );
  }
};
