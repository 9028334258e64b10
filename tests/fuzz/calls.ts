import { idOfAnswer } from "../../src/cli/answer.js";
import { ANSWER_NAMES } from "../../src/cli/answers/schemas.js";
import { asPlainText } from "../../src/cli/plain-text.js";
import { mustBeAsDescribed } from "../support/answers.js";
import { mustBeForPeople } from "./claims.js";
import { runInWorld } from "./world.js";

/** Options that name a file to be written. */
export const WRITES = ["--out", "--to", "--keep", "--write", "--quarantine", "--book", "--new-key"];

/**
 * Runs a command and holds it against what is documented of all of them.
 *
 * @returns whether it could be done
 */
export async function checkCall(words: string[]): Promise<boolean> {
  const { code, out, err, changed, made } = await runInWorld(words);
  if (![0, 1, 2].includes(code)) throw new Error(`exit code ${code}`);
  const isImport = words.includes("import");
  const wantsJson = words.includes("--json");
  mustBeForPeople(err, ...words);
  if (!wantsJson) mustBeForPeople(out, ...words, "null");
  else if (out.trimStart().startsWith("{")) {
    // What follows an instrument prints a document for each minute, a line each.
    for (const text of words[0] === "follow" ? out.trim().split("\n") : [out])
      mustNameItsCommand(JSON.parse(text));
  }
  if (changed.includes("b.siltbook") && !isImport && !words.includes("withdraw"))
    throw new Error("the book says something else now");
  if (code !== 2) {
    if (err !== "" && !isImport) throw new Error(`done, and complaining: ${err}`);
    mustOnlyChange([...changed, ...made], words);
    return true;
  }
  if (err.trim() === "") throw new Error("could not be done, and does not say why");
  if (!isImport && out !== "") throw new Error(`could not be done, and prints ${out.slice(0, 300)}`);
  if (!isImport && changed.length + made.length > 0)
    throw new Error(`could not be done, and wrote ${[...changed, ...made].join(", ")}: ${err}`);
  if (!namesSomething(err, words)) throw new Error(`names nothing: ${err}`);
  return false;
}

/** The answer says which command it is of, and is as that is described. */
function mustNameItsCommand(answer: { readonly schema?: unknown }): void {
  const command = ANSWER_NAMES.find((name) => idOfAnswer(name) === answer.schema);
  if (command === undefined) throw new Error(`the answer names no description: ${answer.schema}`);
  mustBeAsDescribed(command, answer);
}

/** What was written was named: nothing else is touched. */
function mustOnlyChange(names: readonly string[], words: readonly string[]): void {
  for (const name of names) {
    // The public key goes beside the private one.
    const [top = ""] = name.replace(/\.pub$/, "").split("/");
    if (!words.some((word) => word.includes(top))) throw new Error(`${name} was not named and was written`);
  }
  if (names.length > 0 && !words.some((word) => WRITES.some((option) => word.startsWith(option))))
    throw new Error(`${names.join(", ")}: nothing asked for a file`);
}

/** Whether a refusal names an option, or a part of what was typed. */
function namesSomething(err: string, words: readonly string[]): boolean {
  const parts = words.flatMap((word) => [
    asPlainText(word).slice(0, 60),
    ...asPlainText(word).split(/[\s=,;:]+/),
  ]);
  const typed = [...parts, ...parts.flatMap((part) => part.split("-"))].filter((part) => part !== "");
  return /--[a-z]|argument '|command '|""/.test(err) || typed.some((part) => err.includes(part));
}
