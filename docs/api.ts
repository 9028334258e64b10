// Writes down the public surface of every face in docs/api: npm run api
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { publicSurfaces, REPORTS } from "./making/public-surface.js";

const scratch = mkdtempSync(join(tmpdir(), "siltbook-"));
rmSync(REPORTS, { recursive: true, force: true });
mkdirSync(REPORTS);
for (const { file, report } of publicSurfaces(scratch)) writeFileSync(join(REPORTS, file), report);
rmSync(scratch, { recursive: true });
