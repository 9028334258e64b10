// Writes the JSON Schema of a carts file next to this file: npx tsx docs/carts.schema.ts
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { cartsJsonSchema } from "../src/samples/index.js";

const path = join(import.meta.dirname, "carts.schema.json");
writeFileSync(path, `${JSON.stringify(cartsJsonSchema(), null, 2)}\n`);
