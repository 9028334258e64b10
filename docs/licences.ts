// Writes the licences of all packages into docs/licences.md: npm run licences
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { licencesPage } from "./making/licences-page.js";

writeFileSync(join(import.meta.dirname, "licences.md"), licencesPage());
