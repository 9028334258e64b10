// Loaded before a program: writes at its end how much memory it had at most, in MB, into the file that PEAK_FILE names.
import { writeFileSync } from "node:fs";

process.on("exit", () => {
  writeFileSync(process.env.PEAK_FILE, String(Math.round(process.resourceUsage().maxRSS / 1024)));
});
