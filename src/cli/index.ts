export { runCli } from "./run.js";
