// Builds the documentation as a site in out/docs: `npm run docs`. Pages, notebooks as committed, and the API reference.
import { cpSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { Application } from "typedoc";
import { ENTRY_POINTS } from "./making/public-surface.js";
import { sitePages } from "./making/site-pages.js";

const SITE = "out/docs";

rmSync(SITE, { recursive: true, force: true });
const pages = await sitePages();
for (const { path, html } of pages) {
  const target = join(SITE, path);
  mkdirSync(dirname(target), { recursive: true });
  writeFileSync(target, html);
}
cpSync("docs/pictures", `${SITE}/docs/pictures`, { recursive: true });

const reference = await Application.bootstrapWithPlugins({
  name: "siltbook",
  entryPoints: ENTRY_POINTS.map(({ types }) => types.replace(/^\.\/dist\/(.*)\.d\.ts$/, "src/$1.ts")),
  tsconfig: "tsconfig.build.json",
  readme: "none",
  blockTags: ["@param", "@returns", "@throws", "@example", "@source"],
  disableSources: true,
  logLevel: "Error",
});
const project = await reference.convert();
if (project === undefined) throw new Error("the API reference could not be made; the messages above say why");
await reference.generateDocs(project, `${SITE}/api`);
console.log(`${pages.length} pages and the API reference are in ${SITE}`);
