import { spawnSync } from "node:child_process";

/** Says in one line how the packages that the comparisons need are had. */
export const HOW_TO_GET_PYTHON =
  "no Python with numpy, pandas and scipy was found, so what needs it is not measured: on Debian apt-get install " +
  "python3-numpy python3-pandas python3-scipy, or name an interpreter that has them in SILTBOOK_PYTHON";

/** The first interpreter that can import the packages; undefined when there is none. */
export function findPython(): string | undefined {
  const tried = [process.env.SILTBOOK_PYTHON, "python3", "/usr/bin/python3"];
  return tried.find(
    (program) =>
      program !== undefined && spawnSync(program, ["-c", "import numpy, pandas, scipy.stats"]).status === 0,
  );
}

/** Versions of the interpreter and its packages, for the head of the table. */
export function describePython(program: string): string {
  const code =
    "import sys, numpy, pandas, scipy; print('Python', sys.version.split()[0], ' numpy', numpy.__version__, " +
    "' pandas', pandas.__version__, ' scipy', scipy.__version__, sep='')";
  return String(
    spawnSync(program, ["-c", code.replace("print('Python',", "print('Python ',")]).stdout,
  ).trim();
}
