import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { Book, type EvidenceOfVerdict } from "../../src/book/index.js";
import { misfitsOfVerdict } from "../../src/evidence/check-verdict.js";
import { readContent } from "../../src/evidence/content.js";
import { verifyEvidence } from "../../src/evidence/index.js";
import { packEvidence } from "../../src/evidence/pack-evidence.js";
import { readRows } from "../../src/evidence/shown-files.js";
import type { CircuitDecision } from "../../src/fitness/index.js";
import { textIn } from "../support/edited-packs.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

// The forger has the whole program: everything that can be made again and hashed again is.
const ON = "2026-11-20";
const demo = (name: string) => join("datasets/demo", name);
const book = join(temporaryFolder(), "demo.siltbook");
let evidence: EvidenceOfVerdict;
let earlier: EvidenceOfVerdict;

beforeAll(async () => {
  const given = ["--carts", demo("carts.json"), "--requirement", demo("requirement.json"), "--on", ON];
  await run("import", "--book", book, ...given, demo("lab-long.csv"));
  await run("judge", "--book", book, "--on", "2026-11-19");
  await run("judge", "--book", book, "--on", ON);
  const about = ["--book", book, "--cart", "QB-02", "--circuit", "fore", "--person", "A. Person"];
  await run("override", ...about, "--decision", "resample", "--reason", "bottle found open");
  await run("override", ...about, "--lift", "--reason", "a new sample was drawn");
  await run("override", ...about, "--decision", "do-not-connect", "--reason", "a hose leaks");
  await run("override", ...about.with(3, "QB-01"), "--decision", "resample", "--reason", "no label");
  const opened = Book.open(book);
  const [before, last] = opened.verdicts({ cart: "QB-02", circuit: "fore" });
  earlier = opened.evidence(before?.id ?? 0);
  evidence = opened.evidence(last?.id ?? 0);
  opened.close();
});

type Chain = EvidenceOfVerdict["chain"];
const entryOf = ({ lines }: Chain) => lines.find(({ table }) => table === "verdict")?.entry ?? 0;

/** What an entry wrote, said to be of an entry of another number. */
function copied({ bodies, lines }: Chain, from: number, to: number): Pick<Chain, "bodies" | "lines"> {
  const moved = <T extends { readonly entry: number }>(all: readonly T[]) =>
    all.filter(({ entry }) => entry === from).map((one) => ({ ...one, entry: to }));
  return { bodies: moved(bodies), lines: moved(lines) };
}

const without =
  (kind: string, table?: string) =>
  (chain: Chain): Chain => {
    const own = chain.entries.find((entry) => entry.kind === kind)?.number;
    const others = <T extends { readonly entry: number }>(all: readonly T[]) =>
      all.filter(({ entry }) => entry !== own);
    return {
      ...chain,
      ...(table === undefined && { bodies: others(chain.bodies) }),
      lines: others(chain.lines),
    };
  };
const inLines = (from: string, to: string) => (chain: Chain) => ({
  ...chain,
  lines: chain.lines.map((written) => ({
    ...written,
    lines: written.lines.map((line) => line?.replace(from, to) ?? null),
  })),
});

/** [what is forged, how, what is said of it] */
const FORGERIES: readonly [string, (chain: Chain) => Chain, RegExp][] = [
  [
    "rows of an entry that the chain does not have, before those that it has",
    (chain) => {
      const more = copied(chain, entryOf(chain), 99);
      return { ...chain, bodies: [...more.bodies, ...chain.bodies], lines: [...more.lines, ...chain.lines] };
    },
    /entry 99 is not in the chain/,
  ],
  [
    "rows of an entry that the chain does not have, alone",
    (chain) => {
      const more = copied(chain, entryOf(chain), 99);
      const others = <T extends { readonly entry: number }>(all: readonly T[]) =>
        all.filter(({ entry }) => entry !== entryOf(chain));
      return {
        ...chain,
        bodies: [...others(chain.bodies), ...more.bodies],
        lines: [...others(chain.lines), ...more.lines],
      };
    },
    /entry 99 is not in the chain/,
  ],
  [
    "a list of what an entry wrote, of an entry that the chain does not have",
    (chain) => ({ ...chain, bodies: [...chain.bodies, { entry: 0, pieces: [] }] }),
    /entry 0 is not in the chain/,
  ],
  [
    "rows without the list of what their entry wrote",
    (chain) => ({ ...chain, bodies: chain.bodies.filter(({ entry }) => entry !== entryOf(chain)) }),
    /wrote no rows of table verdict/,
  ],
  ["a decision left out", without("override"), /may have written a decision, and its rows are not all here/],
  ["the rows of a decision left out", without("override", "override"), /its rows are not all here/],
  ["the lifting of a decision left out", without("lifting"), /its rows are not all here/],
  ["what the first entry wrote left out", without("begin"), /entry 1 may have written a decision/],
  [
    "the reason of a decision",
    inLines("a hose leaks", "no hose leaks"),
    /rows of table override are not as entry \d+ wrote them/,
  ],
  [
    "a decision of another circuit",
    inLines('[3,"QB-01","fore"', '[3,"QB-02","fore"'),
    /rows of table override are not as entry \d+ wrote them/,
  ],
];

describe("a verdict that its row lists as another than was computed", () => {
  test.each([
    ["fit", { verdict: "fit" as const }],
    ["another cart's", { cart: "QB-01" }],
    ["another circuit's", { circuit: "aft" }],
    ["another day's", { on: "2026-11-21" }],
  ])("%s: found", async (_, listed) => {
    const read = readRows(readContent(await packEvidence(evidence)));
    expect(misfitsOfVerdict(read)).toEqual([]);
    expect(misfitsOfVerdict({ ...read, written: { ...read.written, ...listed } })).toEqual([
      {
        file: "chain/rows.jsonl",
        message: expect.stringMatching(
          /is listed as .*, and was computed as "circulate" for QB-02 fore on 2026-11-20$/,
        ),
      },
    ]);
  });
});

describe("a pack that was made again from a forged part of the chain", () => {
  test("the part as the book gave it fits", async () => {
    const found = await verifyEvidence(await packEvidence(evidence));
    expect(found.misfits).toEqual([]);
  });

  test("what people decided about its circuit is shown as the chain has it, and of no other circuit", async () => {
    const files = await packEvidence(evidence);
    const decisions = JSON.parse(textIn(files, "decisions.json")) as CircuitDecision[];
    expect(decisions).toMatchObject([
      {
        ...{ cart: "QB-02", circuit: "fore", decision: "resample", reason: "bottle found open" },
        lifted: { person: "A. Person", reason: "a new sample was drawn" },
        madeOn: { verdict: "circulate", on: ON },
      },
      { cart: "QB-02", circuit: "fore", decision: "do-not-connect", madeOn: { verdict: "circulate" } },
    ]);
    expect(textIn(files, "sheet.html")).toContain("a hose leaks");
    const { covered } = await verifyEvidence(files);
    const entries = evidence.chain.entries.filter(({ kind }) => /override|lifting/.test(kind));
    expect(covered.filter(({ what }) => /decision/.test(what))).toEqual([
      { entry: entries[0]?.number, what: "decision 1: take a new sample, by A. Person" },
      { entry: entries[1]?.number, what: "that decision 1 was lifted" },
      { entry: entries[2]?.number, what: "decision 2: do not connect, by A. Person" },
    ]);
  });

  // A head that was printed between the two entries says nothing of the later verdict.
  test("the entry that is named wrote the verdict, also where rows of an earlier entry are put before it", async () => {
    const { chain } = evidence;
    const [bodies, lines] = [
      [...earlier.chain.bodies, ...chain.bodies],
      [...earlier.chain.lines, ...chain.lines],
    ];
    const found = await verifyEvidence(
      await packEvidence({ ...evidence, chain: { ...chain, bodies, lines } }),
    );
    expect(entryOf(earlier.chain)).toBeLessThan(entryOf(chain));
    expect(found.verdict?.entry).toBe(entryOf(chain));
  });

  test.each(FORGERIES)("%s: found", async (_, forge, message) => {
    const files = await packEvidence({ ...evidence, chain: forge(evidence.chain) });
    const found = await verifyEvidence(files);
    expect(found.fits).toBe(false);
    expect(found.misfits[0]?.message).toMatch(message);
  });
});
