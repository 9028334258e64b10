// Writes the JSON Schema of the column map next to this file: npm run schemas
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { columnMapJsonSchema } from "../src/intake/index.js";

const path = join(import.meta.dirname, "column-map.schema.json");
writeFileSync(path, `${JSON.stringify(columnMapJsonSchema(), null, 2)}\n`);
