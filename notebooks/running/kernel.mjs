// Runs the cells of notebooks with the executor of the TypeScript kernel, in a process of its own.
//
// Plain JavaScript on purpose: a loader for TypeScript would also load the packages that the cells import, and in
// another way than the kernel does under a notebook editor.
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const { createConverter } = require("tslab/dist/converter.js");
const { createExecutor } = require("tslab/dist/executor.js");
const { JupyterHandlerImpl } = require("tslab/dist/jupyter.js");

const node = createConverter({ isJS: false, isBrowser: false });
const executor = createExecutor(
  process.cwd(),
  { node, browser: node, close: () => node.close() },
  { log: console.log, error: console.error },
);
let handler = new JupyterHandlerImpl(executor, false);

process.on("message", async (/** @type {{ forget?: true, code: string }} */ { forget, code }) => {
  if (forget) {
    executor.reset();
    // One that saw a cell fail passes over the next.
    handler = new JupyterHandlerImpl(executor, false);
    return;
  }
  const outputs = [];
  const print = (name, text) => outputs.push({ output_type: "stream", name, text });
  const show = ({ data, metadata }) => outputs.push({ output_type: "display_data", data, metadata });
  const { status } = await handler.handleExecute({ code }, print, show);
  // What was printed by promises that are settled already still belongs to this cell.
  await new Promise((resolve) => setImmediate(resolve));
  process.send({ ok: status === "ok", outputs });
});
