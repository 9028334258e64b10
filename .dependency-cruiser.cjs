// The one-way order of the modules: a module imports only from modules before it, and only through their index.
const MODULES = [
  "provenance",
  "units",
  "numeric",
  "counts",
  "cleanliness",
  "fluids",
  "samples",
  "circulation",
  "trend",
  "online",
  "laboratories",
  "fitness",
  "intake",
  "book",
  "figures",
  "frames",
  "tables",
  "duckdb",
  "report",
  "evidence",
  "page",
  "notebook",
  "public",
  "cli",
  // What makes of the others one file for a program.
  "bundles",
];

/** @type {import("dependency-cruiser").IConfiguration} */
module.exports = {
  forbidden: [
    ...MODULES.map((module, index) => ({
      name: `${module}-imports-only-earlier-modules`,
      severity: "error",
      from: { path: `^src/${module}/` },
      to: { path: `^src/(${MODULES.slice(index + 1).join("|") || "nothing"})/` },
    })),
    {
      name: "only-through-the-index",
      severity: "error",
      from: { path: "^src/([^/]+)/" },
      to: { path: "^src/[^/]+/", pathNot: ["^src/$1/", "^src/[^/]+/index\\.ts$"] },
    },
    {
      name: "every-module-is-in-the-order",
      severity: "error",
      from: { path: `^src/(?!(${MODULES.join("|")})/)[^/]+/` },
      to: {},
    },
    {
      name: "pure-modules-touch-no-world",
      severity: "error",
      from: { path: `^src/(${MODULES.slice(0, MODULES.indexOf("intake")).join("|")})/` },
      to: { dependencyTypes: ["core"] },
    },
    { name: "no-circles", severity: "error", from: {}, to: { circular: true } },
  ],
  options: {
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
  },
};
