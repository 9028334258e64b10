// Preloaded with --require: tells the processor time and memory of the program when it ends, in the file SILTBOOK_CPU.
const { writeFileSync } = require("node:fs");

process.on("exit", () => {
  const { user, system } = process.cpuUsage();
  const peakMb = (process.resourceUsage().maxRSS * 1024) / 1e6;
  writeFileSync(process.env.SILTBOOK_CPU, JSON.stringify({ seconds: (user + system) / 1e6, peakMb }));
});
