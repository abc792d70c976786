import type { ComponentChildren } from 'preact';
import { getIn, type Json, type JsonObject, type JsonPath, setIn } from '../draft/json.ts';
import type { FeatureKind } from '../draft/new-feature.ts';
import { tidy } from '../draft/quantity.ts';
import { tappedHoleText } from '../part/threads.ts';
import { Blank, Choice, DepthBlank, type DrawProps } from './blank.tsx';
import type { Edit } from './store.ts';

interface FeatureProps extends DrawProps {
  readonly path: JsonPath;
  readonly name: string;
}

/** x and y of a place. */
const Place = ({ store, values, path, label }: DrawProps & { path: JsonPath; label: string }) => (
  <span class="place">
    <Blank store={store} values={values} path={[...path, 0]} label={`${label}, across`} />
    <span aria-hidden="true">, </span>
    <Blank store={store} values={values} path={[...path, 1]} label={`${label}, up`} />
  </span>
);

/** The sentence in which each kind of feature is written down, every figure of it to be changed in place. */
export const FeatureSentence = (p: FeatureProps & { readonly kind: FeatureKind }): ComponentChildren => {
  const { path, name, store } = p;
  const blank = (key: string, label: string, otherwise?: number) => (
    <Blank
      {...p}
      path={[...path, key]}
      label={`${label} of ${name}`}
      {...(otherwise === undefined ? {} : { otherwise })}
    />
  );
  switch (p.kind) {
    case 'ends':
      return (
        <>
          radius {blank('radius', 'Radius')}, centre at{' '}
          <Place {...p} path={[...path, 'centre']} label={`Centre of ${name}`} />
        </>
      );
    case 'arms': {
      const ends = (store.opened.value?.part.ends ?? []).map((e) => e.name);
      return (
        <>
          from <Choice store={store} path={[...path, 'from']} label={`${name} starts at`} choices={ends} /> to{' '}
          <Choice store={store} path={[...path, 'to']} label={`${name} runs to`} choices={ends} />
        </>
      );
    }
    case 'plates':
      return (
        <>
          <Corners {...p} /> corners rounded {blank('cornerRadius', 'Corner radius', 0)}
        </>
      );
    case 'holes':
      return <HoleSentence {...p} />;
    case 'slots':
      return (
        <>
          {blank('width', 'Width')} wide, from{' '}
          <Place {...p} path={[...path, 'from']} label={`Start of ${name}`} /> to{' '}
          <Place {...p} path={[...path, 'to']} label={`End of ${name}`} />,{' '}
          <DepthBlank {...p} path={[...path, 'depth']} label={`Depth of ${name}`} />, from the{' '}
          <Choice
            store={store}
            path={[...path, 'face']}
            label={`Face of ${name}`}
            choices={['front', 'back']}
            otherwise="front"
          />
        </>
      );
    case 'forks':
      return (
        <>
          {blank('width', 'Width')} wide, {blank('depth', 'Depth')} deep, mouth at{' '}
          <Place {...p} path={[...path, 'mouth']} label={`Mouth of ${name}`} />, inward at{' '}
          {blank('direction', 'Direction')}°, root{' '}
          <Choice
            store={store}
            path={[...path, 'root']}
            label={`Root of ${name}`}
            choices={['round', 'square']}
            otherwise="round"
            onChoose={(root) => store.change((document) => withRoot(document, path, root))}
          />
          {store.at([...path, 'root']) === 'square' && (
            <> with corners of {blank('cornerRadius', 'Root corner radius', 0)}</>
          )}
        </>
      );
    case 'lands':
      return (
        <>
          <Area {...p} /> from {blank('bottom', 'Underside', 0)} up to{' '}
          {blank('top', 'Top', p.store.opened.value?.part.bar.thickness ?? 0)}
        </>
      );
  }
};

/** A fork with another root: a square one has corners, to begin with of a sixth of its width. */
const withRoot = (document: JsonObject, path: JsonPath, root: string): Json => {
  const { cornerRadius, ...fork } = getIn(document, path) as JsonObject;
  if (root === 'round') return setIn(document, path, { ...fork, root });
  const width = typeof fork.width === 'number' ? fork.width : null;
  const usual = width === null ? `(${String(fork.width)})/6` : tidy(width / 6);
  return setIn(document, path, { ...fork, root, cornerRadius: cornerRadius ?? usual });
};

/** The drill that is taken, the thread it leaves, and what the printed table says beside. */
const TapDrillNote = ({ store, name }: Pick<FeatureProps, 'store' | 'name'>) => {
  const hole = store.opened.value?.part.holes.find((h) => h.name === name);
  return hole?.purpose === 'tapped' ? <span class="worked"> (drill {tappedHoleText(hole)})</span> : null;
};

const HoleSentence = (p: FeatureProps) => {
  const { store, path, name } = p;
  const purpose = String(store.at([...path, 'purpose']) ?? 'clearance');
  const keep = ['name', 'centre', 'depth', 'from'];
  const repurpose = (to: string): Edit =>
    store.change((document) => {
      const old = store.at(path) as { readonly [key: string]: Json };
      const base = Object.fromEntries(Object.entries(old).filter(([k]) => keep.includes(k)));
      const diameter = old.diameter ?? 3;
      const fresh: { [key: string]: Json } = { purpose: to, ...base };
      if (to === 'tapped') fresh.thread = store.opened.value?.part.unit === 'inch' ? '4-40 UNC' : 'M3';
      else fresh.diameter = diameter;
      if (to === 'counterbored') {
        fresh.boreDiameter = typeof diameter === 'number' ? diameter * 1.8 : 6;
        fresh.boreDepth = (store.opened.value?.part.bar.thickness ?? 4) * 0.25;
      }
      return setIn(document, path, fresh);
    });
  return (
    <>
      <Choice
        store={store}
        path={[...path, 'purpose']}
        label={`Purpose of ${name}`}
        choices={['clearance', 'reamed', 'tapped', 'counterbored']}
        onChoose={repurpose}
      />{' '}
      {purpose === 'tapped' ? (
        <>
          <Blank {...p} path={[...path, 'thread']} label={`Thread of ${name}`} words />
          <TapDrillNote store={store} name={name} />
        </>
      ) : (
        <>
          ⌀ <Blank {...p} path={[...path, 'diameter']} label={`Diameter of ${name}`} />
        </>
      )}{' '}
      at <Place {...p} path={[...path, 'centre']} label={`Centre of ${name}`} />,{' '}
      <DepthBlank {...p} path={[...path, 'depth']} label={`Depth of ${name}`} />
      {purpose === 'counterbored' && (
        <>
          , bore ⌀ <Blank {...p} path={[...path, 'boreDiameter']} label={`Bore diameter of ${name}`} /> to{' '}
          <Blank {...p} path={[...path, 'boreDepth']} label={`Bore depth of ${name}`} /> deep
        </>
      )}
      , from the{' '}
      <Choice
        store={store}
        path={[...path, 'from']}
        label={`Face ${name} is drilled from`}
        choices={['front', 'back']}
        otherwise="front"
      />
    </>
  );
};

const Corners = (p: FeatureProps) => {
  const rectangle = p.store.at([...p.path, 'rectangle']);
  if (rectangle) {
    return (
      <>
        from <Place {...p} path={[...p.path, 'rectangle', 0]} label={`First corner of ${p.name}`} /> to{' '}
        <Place {...p} path={[...p.path, 'rectangle', 1]} label={`Far corner of ${p.name}`} />,{' '}
      </>
    );
  }
  const corners = p.store.at([...p.path, 'corners']);
  if (!Array.isArray(corners)) return null;
  return (
    <>
      corners{' '}
      {corners.map((_, i) => (
        <span key={i}>
          {i > 0 && '; '}
          <Place {...p} path={[...p.path, 'corners', i]} label={`Corner ${i + 1} of ${p.name}`} />
        </span>
      ))}
      ,{' '}
    </>
  );
};

const Area = (p: FeatureProps) => {
  const area = p.store.at([...p.path, 'area']);
  const path = [...p.path, 'area'];
  if (area === 'whole' || area === undefined) return <>the whole outline, </>;
  const disc = [...path, 'disc'];
  if (p.store.at(disc)) {
    return (
      <>
        a disc of radius <Blank {...p} path={[...disc, 'radius']} label={`Radius of ${p.name}`} /> about{' '}
        <Place {...p} path={[...disc, 'centre']} label={`Centre of ${p.name}`} />,{' '}
      </>
    );
  }
  return <Corners {...p} path={path} />;
};
