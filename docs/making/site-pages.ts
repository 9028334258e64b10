import { readdirSync, readFileSync } from "node:fs";
import { basename } from "node:path";
import { marked } from "marked";
import { allNotebooks } from "../../notebooks/running/all-notebooks.js";
import { readNotebook } from "../../notebooks/running/notebook-file.js";
import { notebookPage } from "./notebook-page.js";
import { pageOf } from "./page.js";

/** One page of the built documentation, without the API reference. */
export interface SitePage {
  /** Where it is in the site. */
  readonly path: string;
  readonly html: string;
}

/** Pages outside the folder docs that are part of the documentation. */
const ELSEWHERE = [
  "README.md",
  "DEVELOPERS.md",
  "CHANGELOG.md",
  "datasets/README.md",
  "datasets/demo/README.md",
  "datasets/requirements/SOURCE.md",
  "notebooks/README.md",
];

/** Every written page and every notebook, as HTML. */
export async function sitePages(): Promise<SitePage[]> {
  const docs = ["docs", "docs/making", "docs/api"].flatMap((folder) =>
    readdirSync(folder).flatMap((name) => (name.endsWith(".md") ? [`${folder}/${name}`] : [])),
  );
  const written = [...ELSEWHERE, ...docs].map((path) => {
    const text = readFileSync(path, "utf8");
    const title = /^# (.*)$/m.exec(text)?.[1] ?? path;
    return sitePage(path.replace(/\.md$/, ".html"), title, marked.parse(text, { async: false }));
  });
  const notebooks = (await allNotebooks()).map(async (path) => {
    const notebook = await readNotebook(path);
    const name = basename(path, ".ipynb");
    const title = notebook.cells[0]?.source.split("\n")[0]?.replace(/^# /, "") ?? name;
    return sitePage(`notebooks/${name}.html`, title, notebookPage(notebook));
  });
  return [...written, ...(await Promise.all(notebooks))];
}

/** Links between pages lead to the built page of each. A notebook's link too; other files are not in the site. */
function sitePage(path: string, title: string, body: string): SitePage {
  const built = body.replace(/(href="(?!https?:)[^"#]*?)\.(?:md|ipynb)(?=["#])/g, "$1.html");
  return { path, html: pageOf(title, built, "../".repeat(path.split("/").length - 1)) };
}
