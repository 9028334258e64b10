// Builds the documentation as a site in out/docs: `npm run docs`. Pages, notebooks as committed, and the API reference.
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { marked } from "marked";
import { Application } from "typedoc";
import { allNotebooks } from "../notebooks/running/all-notebooks.js";
import { readNotebook } from "../notebooks/running/notebook-file.js";
import { notebookPage } from "./making/notebook-page.js";
import { pageOf } from "./making/page.js";

const SITE = "out/docs";

/** The faces of the library, each a module of the API reference. */
const FACES = [
  "index.ts",
  ...["intake", "book", "figures", "frames", "report", "notebook"].map((room) => `${room}/index.ts`),
];

rmSync(SITE, { recursive: true, force: true });
const pages = [
  "README.md",
  "DEVELOPERS.md",
  "CHANGELOG.md",
  "datasets/README.md",
  "datasets/demo/README.md",
  "datasets/requirements/SOURCE.md",
  "notebooks/README.md",
  ...readdirSync("docs")
    .filter((name) => name.endsWith(".md"))
    .map((name) => `docs/${name}`),
];
for (const path of pages) {
  const text = readFileSync(path, "utf8");
  write(
    path.replace(/\.md$/, ".html"),
    /^# (.*)$/m.exec(text)?.[1] ?? path,
    marked.parse(text, { async: false }),
  );
}
for (const path of await allNotebooks()) {
  const name = basename(path, ".ipynb");
  const notebook = await readNotebook(path);
  const title = notebook.cells[0]?.source.split("\n")[0]?.replace(/^# /, "") ?? name;
  write(`notebooks/${name}.html`, title, notebookPage(notebook));
}
cpSync("docs/pictures", `${SITE}/docs/pictures`, { recursive: true });

const reference = await Application.bootstrapWithPlugins({
  name: "siltbook",
  entryPoints: FACES.map((face) => `src/${face}`),
  tsconfig: "tsconfig.build.json",
  readme: "none",
  blockTags: ["@param", "@returns", "@throws", "@example", "@source"],
  disableSources: true,
  logLevel: "Error",
});
const project = await reference.convert();
if (project === undefined) throw new Error("the API reference could not be made; the messages above say why");
await reference.generateDocs(project, `${SITE}/api`);
console.log(
  `${pages.length} pages, ${(await allNotebooks()).length} notebooks and the API reference are in ${SITE}`,
);

/** Links between pages lead to the built page of each. A notebook's link too; other files are not in the site. */
function write(path: string, title: string, body: string): void {
  const built = body.replace(/(href="(?!https?:)[^"#]*?)\.(?:md|ipynb)(?=["#])/g, "$1.html");
  const target = join(SITE, path);
  mkdirSync(dirname(target), { recursive: true });
  writeFileSync(target, pageOf(title, built, "../".repeat(path.split("/").length - 1)));
}
