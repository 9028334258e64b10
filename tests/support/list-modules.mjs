// Preloaded with --import: writes the address of every module that a program loads into the file SILTBOOK_MODULES.
import { appendFileSync } from "node:fs";
import { createRequire, register } from "node:module";

const file = JSON.stringify(process.env.SILTBOOK_MODULES);
const hook = `
  import { appendFileSync } from "node:fs";
  export async function load(url, context, next) {
    appendFileSync(${file}, url + "\\n");
    return next(url, context);
  }`;
register(`data:text/javascript,${encodeURIComponent(hook)}`);
// What a CommonJS package requires on its own does not pass by the hook.
const { cache } = createRequire(import.meta.url);
process.on("exit", () => appendFileSync(process.env.SILTBOOK_MODULES, `${Object.keys(cache).join("\n")}\n`));
