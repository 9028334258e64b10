import type { WrittenFile, WrittenVerdict } from "../book/index.js";
import type { Described } from "./data-package.js";
import { mediatypeOf } from "./data-package.js";
import { jsonFile, type PackFile, sha256OfBytes } from "./pack-file.js";

/** The description of the pack as RO-Crate metadata; the specification gives the name. */
export const RO_CRATE = "ro-crate-metadata.json";

const SPECIFICATION = "https://w3id.org/ro/crate/1.1";

/** What the metadata say of how the verdict came about. */
export interface Provenance {
  readonly verdict: WrittenVerdict;
  /** The paths of the inputs of the verdict. */
  readonly inputs: readonly string[];
  /** The laboratory's files, with their paths where they are in the pack. */
  readonly files: readonly { readonly kept: WrittenFile; readonly path: string | undefined }[];
}

/** Describes files as an RO-Crate, version 1.1, with terms of PROV for what came from what. */
export function roCrateOf(
  { title, description, created, siltbook }: Described,
  files: readonly PackFile[],
  { verdict, inputs, files: sources }: Provenance,
): PackFile {
  const byId = (ids: readonly string[]) => ids.map((id) => ({ "@id": id }));
  const paths = files.map(({ path }) => path);
  const derived = new Map<string, object>([
    ["verdict.json", { "prov:wasGeneratedBy": { "@id": "#judging" }, "prov:wasDerivedFrom": byId(inputs) }],
    ["sheet.html", { "prov:wasDerivedFrom": { "@id": "verdict.json" } }],
    ["rows.csv", { "prov:wasDerivedFrom": byId(sources.map((source) => idOfSource(source))) }],
    ["samples.csv", { "prov:wasGeneratedBy": { "@id": "#reading" } }],
  ]);
  return jsonFile(RO_CRATE, {
    "@context": [
      `${SPECIFICATION}/context`,
      { prov: "http://www.w3.org/ns/prov#", sha256: "https://schema.org/sha256" },
    ],
    "@graph": [
      {
        "@id": RO_CRATE,
        "@type": "CreativeWork",
        conformsTo: { "@id": SPECIFICATION },
        about: { "@id": "./" },
      },
      {
        "@id": "./",
        "@type": "Dataset",
        name: title,
        description,
        datePublished: created,
        license: "No licence is stated: the base that made the pack decides who may use it.",
        hasPart: byId(paths),
      },
      ...files.map(({ path, bytes }) => ({
        "@id": path,
        "@type": ["File", "prov:Entity"],
        encodingFormat: mediatypeOf(path),
        contentSize: String(bytes.length),
        sha256: sha256OfBytes(bytes),
        ...derived.get(path),
      })),
      ...sources
        .filter(({ path }) => path === undefined)
        .map((source) => ({
          "@id": idOfSource(source),
          "@type": ["CreativeWork", "prov:Entity"],
          name: source.kept.file,
          sha256: source.kept.sha256,
        })),
      {
        "@id": "#reading",
        "@type": ["CreateAction", "prov:Activity"],
        name: "reading the laboratory's files",
        "prov:used": byId(sources.map((source) => idOfSource(source))),
        "prov:wasAssociatedWith": { "@id": "#siltbook" },
      },
      {
        "@id": "#judging",
        "@type": ["CreateAction", "prov:Activity"],
        name: `judging cart ${verdict.cart}, circuit ${verdict.circuit}, for ${verdict.on}`,
        "prov:used": byId(inputs),
        "prov:endedAtTime": verdict.at,
        "prov:wasAssociatedWith": { "@id": "#judge" },
      },
      softwareAgent("#judge", verdict.version),
      softwareAgent("#siltbook", siltbook),
    ],
  });
}

function softwareAgent(id: string, version: string) {
  return { "@id": id, "@type": ["SoftwareApplication", "prov:SoftwareAgent"], name: "siltbook", version };
}

function idOfSource({ kept, path }: Provenance["files"][number]): string {
  return path ?? `#file-${kept.number}`;
}
