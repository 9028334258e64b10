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

/** Where the reports that are checked in stand, one for each entry point. */
export const REPORTS = join(ROOT, "docs/api");

/** Every entry point of the package that has types: its name as people import it, and its declarations. */
export const ENTRY_POINTS = Object.entries(manifest.exports).flatMap(([subpath, entry]) =>
  typeof entry === "string" ? [] : [{ name: subpath.replace(".", "siltbook"), types: entry.types }],
);

/** What one entry point of the package shows. */
export interface PublicSurface {
  /** its name as people import it */
  readonly name: string;
  /** file name of its report */
  readonly file: string;
  /** every symbol it exports with its signature, sorted by name */
  readonly report: string;
  /** names of the symbols it exports */
  readonly names: readonly string[];
  /** the declarations it exports, without the word `export` */
  readonly exported: readonly string[];
  /** declarations that its signatures mention and that it does not export */
  readonly mentioned: readonly string[];
}

/**
 * Writes down what every entry point of the package shows, from the declarations in `dist/`.
 *
 * @param scratch - a folder for what the extractor writes on its way
 */
export function publicSurfaces(scratch: string): PublicSurface[] {
  const entries = ENTRY_POINTS.map(({ name, types }) => {
    const file = `${name.replace("/", "-")}.api.md`;
    return { name, file, config: configOf(file, types, scratch) };
  });
  const [main] = entries;
  if (main === undefined) throw new Error("package.json exports nothing that has types");
  const compilerState = CompilerState.create(main.config, {
    additionalEntryPoints: entries.map(({ config }) => config.mainEntryPointFilePath),
  });
  return entries.map(({ name, file, config }) => {
    Extractor.invoke(config, { localBuild: true, compilerState, messageCallback: refuseErrors });
    const shown = entriesOf(readFileSync(join(scratch, file), "utf8"));
    const exported = shown.filter((entry) => entry.startsWith("export "));
    const imports = shown.filter((entry) => entry.startsWith("import "));
    return {
      name,
      file,
      report: `# ${name}\n\nWritten by \`npm run api\`.\n\n\`\`\`ts\n${[...imports, ...exported].join("\n\n")}\n\`\`\`\n`,
      names: exported.map(nameOf),
      exported: exported.map((entry) => entry.replace(/^export /, "")),
      mentioned: shown.filter((entry) => !exported.includes(entry) && !imports.includes(entry)),
    };
  });
}

function nameOf(entry: string): string {
  const name = /^export (?:abstract )?(?:class|const|function|interface|type) (\w+)/.exec(entry)?.[1];
  if (name === undefined)
    throw new Error(`the extractor writes an export in another form than it did: ${entry}`);
  return name;
}

/** The entries of a report, without the extractor's own remarks, which are in comments. */
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
