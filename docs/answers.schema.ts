// Writes the JSON Schemas of what the commands answer with --json into docs/answers: npm run schemas
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { idOfAnswer } from "../src/cli/answer.js";
import { ANSWER_NAMES, schemaOfAnswer } from "../src/cli/answers/schemas.js";

const folder = join(import.meta.dirname, "answers");
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder);
for (const command of ANSWER_NAMES) {
  writeFileSync(
    join(folder, basename(idOfAnswer(command))),
    `${JSON.stringify(schemaOfAnswer(command), null, 2)}\n`,
  );
}
