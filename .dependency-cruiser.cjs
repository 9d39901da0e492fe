// The layers of the house: a lower line may not import a higher one's outside. One row a layer, with its reason.
const layers = [
  { name: 'number', may: [], why: 'exact arithmetic knows nothing of vehicles' },
  { name: 'units', may: ['number'], why: 'units are rationals with a dimension' },
  { name: 'model', may: ['number', 'units'], why: 'documents and what follows from them alone' },
  { name: 'can', may: ['number', 'units', 'model'], why: 'frames and fields, without routes' },
  { name: 'wiring', may: ['number', 'units', 'model'], why: 'conductors and levels, without frames' },
  { name: 'translate', may: ['number', 'units', 'model', 'can', 'wiring'], why: 'what a route does to a value' },
  { name: 'faults', may: ['number', 'units', 'model', 'can', 'wiring', 'translate'], why: 'what breaks when one thing breaks' },
  { name: 'checks', may: ['number', 'units', 'model', 'can', 'wiring', 'translate', 'faults'], why: 'rules judge; they draw nothing and save nothing' },
  { name: 'compare', may: ['number', 'units', 'model', 'can', 'wiring', 'translate', 'faults', 'checks'], why: 'revisions by meaning' },
  { name: 'edit', may: ['number', 'units', 'model', 'can', 'wiring', 'translate', 'faults', 'checks', 'compare'], why: 'commands and undo, without a window' },
  { name: 'export', may: ['number', 'units', 'model', 'can', 'wiring', 'translate', 'faults', 'checks', 'compare'], why: 'documents print the core; they change nothing' },
];
const core = layers.map(({ name }) => name);

/** Files of a layer may import their own folder, the index.ts of the layers below, and packages. */
const layerRules = layers.map(({ name, may, why }) => ({
  name: `layer-${name}`,
  comment: why,
  severity: 'error',
  from: { path: `^src/${name}/` },
  to: { path: '^(src|electron)/', pathNot: [`^src/${name}/`, '^src/core-globals', ...may.map((layer) => `^src/${layer}/index\\.ts$`)] },
}));

module.exports = {
  forbidden: [
    { name: 'no-circular', comment: 'a circle has no bottom to start reading from', severity: 'error', from: {}, to: { circular: true, dependencyTypesNot: ['type-only'] } },
    ...layerRules,
    {
      name: 'dbc-alone',
      comment: 'the DBC library is fit to be published alone',
      severity: 'error',
      from: { path: '^src/can/formats/dbc/' },
      to: { pathNot: '^src/can/formats/dbc/' },
    },
    {
      name: 'core-without-node',
      comment: 'the core runs in a worker, a browser and a terminal alike',
      severity: 'error',
      from: { path: `^src/(${core.join('|')})/` },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'core-through-index',
      comment: 'import a layer through its index',
      severity: 'error',
      from: { path: '^(src/(host|cli|workbench)|electron)/' },
      to: { path: `^src/(${core.join('|')})/`, pathNot: `^src/(${core.join('|')})/index\\.ts$` },
    },
    {
      name: 'workbench-apart',
      comment: 'the page reaches files only through the Host interface, whose types alone it may name',
      severity: 'error',
      from: { path: '^src/workbench/' },
      to: { path: '^(src/cli|src/host|electron)/', pathNot: '^src/host/interface/' },
    },
    {
      name: 'host-below-cli',
      comment: 'files know nothing of commands or windows',
      severity: 'error',
      from: { path: '^src/host/' },
      to: { path: '^(src/(cli|workbench)|electron)/' },
    },
    {
      name: 'electron-thin',
      comment: 'the window shell uses the host and its channels, never the page or the terminal',
      severity: 'error',
      from: { path: '^electron/' },
      to: { path: '^src/(cli|workbench)/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default'] },
  },
};
