// Writes the JSON Schema of a requirements file next to this file: npx tsx docs/requirements.schema.ts
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { requirementsJsonSchema } from "../src/samples/index.js";

const path = join(import.meta.dirname, "requirements.schema.json");
writeFileSync(path, `${JSON.stringify(requirementsJsonSchema(), null, 2)}\n`);
