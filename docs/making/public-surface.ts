import { readFileSync } from "node:fs";
import { join } from "node:path";
import {
  CompilerState,
  Extractor,
  ExtractorConfig,
  type ExtractorLogLevel,
  type ExtractorMessage,
} from "@microsoft/api-extractor";
import manifest from "../../package.json" with { type: "json" };

const ROOT = join(import.meta.dirname, "../..");

/** Where the reports that are checked in stand, one for each face. */
export const REPORTS = join(ROOT, "docs/api");

/** Every face of the package that has types: its name as people import it, and its declarations. */
const FACES = Object.entries(manifest.exports).flatMap(([subpath, face]) =>
  typeof face === "string" ? [] : [{ name: subpath.replace(".", "siltbook"), types: face.types }],
);

/** What one face of the package shows. */
export interface PublicSurface {
  /** file name of its report */
  readonly file: string;
  /** every symbol with its signature, sorted by name */
  readonly report: string;
}

/**
 * Writes down what every face of the package shows, from the declarations in `dist/`.
 *
 * A type that a face mentions without exporting it is part of what it shows, and stands without `export`; once only, in the
 * report of `siltbook` where that has it, so that one change is one change in review.
 *
 * @param scratch - a folder for what the extractor writes on its way
 */
export function publicSurfaces(scratch: string): PublicSurface[] {
  const faces = FACES.map(({ name, types }) => {
    const file = `${name.replace("/", "-")}.api.md`;
    return { name, file, config: configOf(file, types, scratch) };
  });
  const [main] = faces;
  if (main === undefined) throw new Error("package.json exports nothing that has types");
  const compilerState = CompilerState.create(main.config, {
    additionalEntryPoints: faces.map(({ config }) => config.mainEntryPointFilePath),
  });
  const reports = faces.map(({ name, file, config }) => {
    Extractor.invoke(config, { localBuild: true, compilerState, messageCallback: refuseErrors });
    return { name, file, entries: entriesOf(readFileSync(join(scratch, file), "utf8")) };
  });
  const shownByMain = new Set(reports[0]?.entries.map((entry) => entry.replace(/^export /, "")));
  return reports.map(({ name, file, entries }) => {
    const shown = entries.filter((entry) => file === main.file || !shownByMain.has(entry));
    return {
      file,
      report: `# ${name}\n\nWritten by \`npm run api\`.\n\n\`\`\`ts\n${shown.join("\n\n")}\n\`\`\`\n`,
    };
  });
}

/** The entries of a report, without the extractor's own remarks, which stand in comments. */
function entriesOf(report: string): string[] {
  const code = /^```ts\n(.*)^```$/ms.exec(report)?.[1];
  if (code === undefined) throw new Error("the extractor writes its report in another form than it did");
  return code
    .replace(/^ *\/\/.*\n/gm, "")
    .trim()
    .split(/\n\n+/);
}

function refuseErrors(message: ExtractorMessage): void {
  if (message.logLevel === ("error" satisfies `${ExtractorLogLevel}`)) throw new Error(message.text);
  message.handled = true;
}

function configOf(file: string, types: string, scratch: string): ExtractorConfig {
  const silent = { default: { logLevel: "none" as ExtractorLogLevel } };
  return ExtractorConfig.prepare({
    packageJsonFullPath: join(ROOT, "package.json"),
    configObjectFullPath: undefined,
    configObject: {
      projectFolder: ROOT,
      mainEntryPointFilePath: join(ROOT, types),
      newlineKind: "lf",
      compiler: { tsconfigFilePath: join(ROOT, "tsconfig.build.json") },
      apiReport: {
        enabled: true,
        reportFileName: file,
        reportFolder: scratch,
        reportTempFolder: scratch,
        includeForgottenExports: true,
      },
      docModel: { enabled: false },
      dtsRollup: { enabled: false },
      tsdocMetadata: { enabled: false },
      messages: { extractorMessageReporting: silent, tsdocMessageReporting: silent },
    },
  });
}
