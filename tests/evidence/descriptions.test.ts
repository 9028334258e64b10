import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, test } from "vitest";
import { evidenceFromBook, type PackFile } from "../../src/evidence/index.js";
import { sha256, textIn } from "../support/edited-packs.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const demo = (name: string) => join("datasets/demo", name);
let files: readonly PackFile[];

beforeAll(async () => {
  const book = join(temporaryFolder(), "demo.siltbook");
  const given = [
    "--carts",
    demo("carts.json"),
    "--requirement",
    demo("requirement.json"),
    "--on",
    "2026-11-20",
  ];
  await run("import", "--book", book, ...given, demo("lab-tidy.csv"), demo("lab-long.csv"));
  await run("judge", "--book", book, "--on", "2026-11-20");
  files = (await evidenceFromBook(book, { cart: "QB-01", circuit: "aft" }, { roCrate: true })).files;
});

interface Resource {
  readonly name: string;
  readonly path: string;
  readonly type?: string;
  readonly mediatype: string;
  readonly bytes: number;
  readonly hash: string;
  readonly schema?: { readonly fields: readonly { readonly name: string; readonly type: string }[] };
}

// The rules of the Data Package standard, version 2.0, sections "Data Package", "Data Resource" and "Table Schema"
// (https://datapackage.org/standard), as far as they say MUST or SHOULD of what is in the description.
describe("datapackage.json by the rules of the Data Package standard 2.0", () => {
  const description = () =>
    JSON.parse(textIn(files, "datapackage.json")) as { resources: Resource[] } & Record<string, string>;

  test("the descriptor names its profile, and has a name and the time of its making", () => {
    const { $schema, name, created } = description();
    expect($schema).toBe("https://datapackage.org/profiles/2.0/datapackage.json");
    expect(name).toMatch(/^[a-z0-9._-]+$/);
    // RFC 3339, date-time.
    expect(created).toMatch(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?Z$/);
  });

  test("there is at least one resource; each has a name of its own and one relative path", () => {
    const { resources } = description();
    expect(resources.length).toBeGreaterThan(0);
    expect(new Set(resources.map(({ name }) => name)).size).toBe(resources.length);
    for (const resource of resources) {
      expect(resource.name).toMatch(/^[a-z0-9._-]+$/);
      expect(resource).not.toHaveProperty("data");
      expect(resource.path).not.toMatch(/^[/~]|\\|(^|\/)\.\.?(\/|$)|:/);
    }
  });

  test("every file but the two lists is a resource, with its size and its SHA-256", () => {
    const { resources } = description();
    const lists = new Set(["datapackage.json", "manifest-sha256.txt"]);
    const described = files.filter(({ path }) => !lists.has(path));
    expect(resources.map(({ path, bytes, hash }) => ({ path, bytes, hash }))).toEqual(
      described.map(({ path, bytes }) => ({ path, bytes: bytes.length, hash: `sha256:${sha256(bytes)}` })),
    );
    for (const { mediatype } of resources) expect(mediatype).toMatch(/^[a-z]+\/[a-z0-9.+-]+$/);
  });

  test("each table has a schema whose fields are the columns of the file, in order and of a known type", () => {
    const tables = description().resources.filter(({ type }) => type === "table");
    expect(tables.map(({ path }) => path)).toEqual(["quantities.csv", "rows.csv", "samples.csv"]);
    for (const { path, schema } of tables) {
      const rows = parse(textIn(files, path), { bom: true }) as string[][];
      expect(
        schema?.fields.map(({ name }) => name),
        path,
      ).toEqual(rows[0]);
      for (const [at, { type }] of (schema?.fields ?? []).entries()) {
        expect(["string", "number"]).toContain(type);
        const cells = rows.slice(1).map((row) => row[at] ?? "");
        if (type === "number")
          for (const cell of cells) expect(Number(cell), `${path} ${cell}`).not.toBeNaN();
      }
    }
  });
});

interface Entity {
  readonly "@id": string;
  readonly "@type": string | readonly string[];
  readonly [property: string]: unknown;
}

// RO-Crate Metadata Specification 1.1, sections "Root Data Entity" and "RO-Crate JSON-LD"
// (https://w3id.org/ro/crate/1.1); W3C PROV-O for the terms with "prov:".
describe("ro-crate-metadata.json by the rules of RO-Crate 1.1", () => {
  const graph = () =>
    (JSON.parse(textIn(files, "ro-crate-metadata.json")) as { "@graph": Entity[] })["@graph"];
  const entity = (id: string) => graph().find((one) => one["@id"] === id);

  test("the metadata describe themselves, and the root has all that a root must have", () => {
    expect(entity("ro-crate-metadata.json")).toEqual({
      "@id": "ro-crate-metadata.json",
      "@type": "CreativeWork",
      conformsTo: { "@id": "https://w3id.org/ro/crate/1.1" },
      about: { "@id": "./" },
    });
    const root = entity("./");
    expect(root?.["@type"]).toBe("Dataset");
    for (const must of ["name", "description", "license"])
      expect(root?.[must]).toEqual(expect.stringMatching(/./));
    expect(root?.datePublished).toEqual(expect.stringMatching(/^\d{4}-\d{2}-\d{2}T/));
  });

  test("every part of the root is a file of the pack with its hash, and every reference leads somewhere", () => {
    const parts = ((entity("./")?.hasPart ?? []) as { "@id": string }[]).map((part) => part["@id"]);
    const made = new Set(["ro-crate-metadata.json", "datapackage.json", "manifest-sha256.txt"]);
    expect(parts).toEqual(files.map(({ path }) => path).filter((path) => !made.has(path)));
    for (const { path, bytes } of files.filter((file) => parts.includes(file.path))) {
      expect(entity(path)).toMatchObject({ sha256: sha256(bytes), contentSize: String(bytes.length) });
    }
    const ids = new Set(graph().map((one) => one["@id"]));
    const references = [
      ...textIn(files, "ro-crate-metadata.json").matchAll(/\{\s*"@id": "([^"]+)"\s*\}/g),
    ].map(([, id = ""]) => id);
    expect(references.length).toBeGreaterThan(parts.length);
    for (const id of references) expect(ids.has(id) || id.startsWith("https://"), id).toBe(true);
  });

  test("the verdict was generated by judging, which used every input and was done by one version of siltbook", () => {
    const inputs = files
      .filter(({ path }) => path.startsWith("inputs/"))
      .map(({ path }) => ({ "@id": path }));
    expect(entity("verdict.json")).toMatchObject({
      "prov:wasGeneratedBy": { "@id": "#judging" },
      "prov:wasDerivedFrom": inputs,
    });
    expect(entity("#judging")).toMatchObject({
      "prov:used": inputs,
      "prov:wasAssociatedWith": { "@id": "#judge" },
    });
    expect(entity("#judge")?.["@type"]).toContain("prov:SoftwareAgent");
    expect(entity("samples.csv")?.["prov:wasGeneratedBy"]).toEqual({ "@id": "#reading" });
    const [source] = files.filter(({ path }) => path.startsWith("laboratory/"));
    expect(entity("#reading")?.["prov:used"]).toEqual([{ "@id": source?.path }]);
  });
});

test("sha256sum reads the manifest: 64 digits, two spaces and a path, for every other file", () => {
  const lines = textIn(files, "manifest-sha256.txt").trimEnd().split("\n");
  const others = files.filter(({ path }) => path !== "manifest-sha256.txt");
  expect(lines).toEqual(others.map(({ path, bytes }) => `${sha256(bytes)}  ${path}`));
});
