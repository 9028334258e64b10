// Writes the JSON Schemas of what the commands answer with --json into docs/answers: npm run schemas
// At a release, npm run schemas -- --release VERSION keeps them also as what that release promised.
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { idOfAnswer } from "../src/cli/answer.js";
import { ANSWER_NAMES, schemaOfAnswer } from "../src/cli/answers/schemas.js";
import { bare, RELEASED, type Schema } from "../tests/support/answers-compatible.js";

const folder = join(import.meta.dirname, "answers");
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder);
for (const command of ANSWER_NAMES) {
  writeFileSync(
    join(folder, basename(idOfAnswer(command))),
    `${JSON.stringify(schemaOfAnswer(command), null, 2)}\n`,
  );
}

const [option, release] = process.argv.slice(2);
if (option === "--release" && release !== undefined) {
  const lines = ANSWER_NAMES.map(
    (command) => `${JSON.stringify(command)}:${JSON.stringify(bare(schemaOfAnswer(command) as Schema))}`,
  );
  writeFileSync(RELEASED, `{"release":${JSON.stringify(release)},"answers":{\n${lines.join(",\n")}\n}}\n`);
} else if (option !== undefined) {
  throw new Error(`expected --release VERSION or nothing, found "${option}"`);
}
