import { deflateRawSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { bytesInMemory, IntakeError, readLabFile } from "../../src/intake/index.js";
import { archiveOf, type Member, membersOf, SHEET, STRINGS, workbookParts } from "../support/archive-of.js";

async function refusal(members: readonly Member[]): Promise<string> {
  try {
    await readLabFile("lab.xlsx", archiveOf(members));
  } catch (error) {
    expect(error).toBeInstanceOf(IntakeError);
    return (error as Error).message;
  }
  return "taken";
}

const parts = await workbookParts();
const sound = membersOf(parts);

/** The sound workbook with one part changed. */
function withPart(name: string, change: (xml: string) => string): Member[] {
  return sound.map((member) =>
    member.name === name ? { ...member, content: change(member.content as string) } : member,
  );
}

describe("archives that lie", () => {
  test("the sound workbook that all of these begin with is taken", async () => {
    const file = await readLabFile("lab.xlsx", archiveOf(sound));
    expect(file.samples.map(({ sample }) => sample)).toEqual(["S-1"]);
  });

  const MEGABYTE = 1_000_000;
  test("a part that announces 400 MB is refused before it is unpacked", async () => {
    const bomb = { name: "xl/bomb.xml", content: Buffer.alloc(4 * MEGABYTE), saysUnpacked: 400 * MEGABYTE };
    expect(await refusal([...sound, bomb])).toBe(
      "lab.xlsx: expected a workbook (xlsx): it unpacks to more than 300 MB",
    );
  });

  test("ten parts of 40 MB that are together more than may be held are refused", async () => {
    const content = Buffer.alloc(40 * MEGABYTE, " ");
    const packed = deflateRawSync(content);
    const bombs = Array.from({ length: 10 }, (_, index) => ({
      name: `xl/bomb${index}.xml`,
      content,
      packed,
    }));
    expect(await refusal([...bombs, ...sound])).toContain("it unpacks to more than 300 MB");
  });

  test.each([
    ["less than it holds", 10, "announces 10 bytes and holds more"],
    ["nothing", 0, "announces 0 bytes and holds more"],
    ["more than it holds", 1_000_000, "announces 1000000 bytes and holds"],
  ])("a part that announces %s is refused", async (_what, saysUnpacked, message) => {
    const lying = sound.map((member) => (member.name === SHEET ? { ...member, saysUnpacked } : member));
    expect(await refusal(lying)).toContain(`"${SHEET}" ${message}`);
  });

  test("a stored part that announces another size is refused", async () => {
    const lying = sound.map((member) =>
      member.name === SHEET ? { ...member, stored: true, saysUnpacked: 5 } : member,
    );
    expect(await refusal(lying)).toContain(`"${SHEET}" announces 5 bytes and holds`);
  });

  test("a part that claims more packed bytes than the file has is refused", async () => {
    const lying = sound.map((member) => (member.name === SHEET ? { ...member, saysPacked: 1e9 } : member));
    expect(await refusal(lying)).toMatch(/is cut off|lies over another member|is not where/);
  });

  test("members that share their bytes are refused", async () => {
    const shared = Array.from({ length: 500 }, (_, index) => ({
      name: `xl/copy${index}.xml`,
      content: parts.get(SHEET) as string,
      sameAs: 0,
    }));
    expect(await refusal([...sound, ...shared])).toContain("lies over another member");
  });

  test("60,000 members are refused", async () => {
    const many = Array.from({ length: 60_000 }, (_, index) => ({
      name: `xl/${index}.xml`,
      content: "",
      stored: true,
    }));
    expect(await refusal([...sound, ...many])).toContain("and at most 10000 are read");
  });

  test("an archive within an archive is not opened: it is no part of a workbook", async () => {
    const inner = archiveOf([{ name: "xl/bomb.xml", content: Buffer.alloc(10 * MEGABYTE) }]);
    const file = await readLabFile(
      "lab.xlsx",
      archiveOf([...sound, { name: "xl/inner.zip", content: inner }]),
    );
    expect(file.samples).toHaveLength(1);
    expect(await refusal([{ name: "inner.xlsx", content: archiveOf(sound) }])).toContain(
      "lab.xlsx: expected text, xlsx or JSON, found a zip archive; unpack it",
    );
  });

  test("a part that stands twice is refused, because readers differ in which they take", async () => {
    expect(await refusal([...sound, { name: SHEET, content: parts.get(SHEET) as string }])).toContain(
      `it holds "${SHEET}" twice`,
    );
  });

  test("a part locked with a password is refused", async () => {
    expect(await refusal(sound.map((member) => ({ ...member, flags: 1 })))).toContain(
      "is locked with a password",
    );
  });

  test.each([
    "../../etc/cron.d/evil.xml",
    "/etc/evil.xml",
    "C:\\Windows\\evil.xml",
    "xl/../../evil.xml",
    "..\\evil.xml",
    "xl/worksheets/con.xml",
    "__proto__",
    "constructor",
    "xl/__proto__.xml",
  ])("a member named %j is passed over and the workbook is taken", async (name) => {
    const file = await readLabFile("lab.xlsx", archiveOf([{ name, content: "<x/>" }, ...sound]));
    expect(file.samples).toHaveLength(1);
    expect({}).not.toHaveProperty("content");
  });
});

describe("XML that reaches out or grows", () => {
  const LAUGHS = `<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">${Array.from(
    { length: 12 },
    (_, index) => `<!ENTITY a${index} "${`&a${index === 0 ? "" : index - 1};`.repeat(10)}">`,
  ).join("")}]>`;
  test.each([
    ["a document type", "<!DOCTYPE worksheet>"],
    ["an external entity", '<!DOCTYPE x [<!ENTITY x SYSTEM "file:///etc/passwd">]>'],
    ["an external document type", '<!DOCTYPE x SYSTEM "http://siltbook.invalid/x.dtd">'],
    ["entities that grow to terabytes", LAUGHS],
    ["a parameter entity", '<!DOCTYPE x [<!ENTITY % p SYSTEM "file:///dev/zero"> %p;]>'],
  ])(
    "%s is refused in a sheet, in the shared strings and in the list of sheets",
    async (_what, declaration) => {
      for (const name of [SHEET, STRINGS, "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml"]) {
        const changed = withPart(name, (xml) => xml.replace(/\?>/, `?>${declaration}`));
        expect(await refusal(changed)).toContain("which a workbook never does");
      }
    },
  );

  test("an entity without a declaration is taken as the characters that stand there", async () => {
    const changed = withPart(STRINGS, (xml) => xml.replace(">S-1<", ">S-1&xxe;<"));
    const { samples } = await readLabFile("lab.xlsx", archiveOf(changed));
    expect(samples[0]?.sample).toBe("S-1&xxe;");
  });

  test("a section that the workbook reader would pass over is refused and not taken for a blank", async () => {
    const changed = withPart(STRINGS, (xml) => xml.replace(">S-1<", "><![CDATA[S-1]]><"));
    expect(await refusal(changed)).toContain('it declares "<![CDATA[S-1]]></t>');
  });

  test("a part in UTF-16, which would hide a declaration from a look at its bytes, is refused", async () => {
    const changed = sound.map((member) =>
      member.name === SHEET
        ? { ...member, content: Buffer.from(`\ufeff${member.content as string}`, "utf16le") }
        : member,
    );
    expect(await refusal(changed)).toContain(`"${SHEET}" is not in UTF-8`);
  });

  test.each([
    ["a tag of 9 MB", (xml: string) => xml.replace("<sheetData>", `<sheetData x="${"y".repeat(9e6)}">`)],
    ["a tag that does not end", (xml: string) => `${xml.slice(0, -20)}<${"x".repeat(5e6)}`],
    ["400,000 tags that do not end", (xml: string) => xml + "<c ".repeat(400_000)],
    ["a comment that does not end", (xml: string) => xml.replace("<sheetData>", "<!-- <sheetData>")],
  ])("%s is refused", async (_what, change) => {
    expect(await refusal(withPart(SHEET, change))).toMatch(/does not end/);
  });
});

describe("sheets that are larger than they look", () => {
  test.each([
    [
      "a cell in the far corner",
      '<row r="3"><c r="XFD1048576"><v>1</v></c></row>',
      /reaches over more than 10000000 cells/,
    ],
    [
      "a row beyond all rows",
      '<row r="999999999999"><c r="A4"><v>1</v></c></row>',
      /row "999999999999", which no sheet has/,
    ],
    [
      "a column beyond all columns",
      '<row r="3"><c r="ZZZ3"><v>1</v></c></row>',
      /cell "ZZZ3", which no sheet has/,
    ],
    [
      "a row of no number",
      '<row r="Infinity"><c r="A3"><v>1</v></c></row>',
      /row "Infinity", which no sheet has/,
    ],
    ["a cell without a place", "<row r='3'><c><v>1</v></c></row>", /cell "", which no sheet has/],
    [
      "a row hidden behind other quotation marks",
      "<row r='99999999'><c r='A3'><v>1</v></c></row>",
      /row "99999999"/,
    ],
    ["a row hidden behind a prefix", '<x:row r="99999999"></x:row>', /row "99999999"/],
    ["a row hidden in a value", `<row spans=' r="1"' r="99999999"></row>`, /row "99999999"/],
    ["a place that stands twice", '<row r="3" r="4"></row>', /cannot be read/],
  ])("%s is refused", async (_what, row, message) => {
    const changed = withPart(SHEET, (xml) => xml.replace("</sheetData>", `${row}</sheetData>`));
    expect(await refusal(changed)).toMatch(message);
  });

  test("a format without a value in the far corner, which spreadsheets leave behind, does no harm", async () => {
    const changed = withPart(SHEET, (xml) =>
      xml.replace("</sheetData>", '<row r="3"><c r="XFD3" s="0"/></row></sheetData>'),
    );
    expect((await readLabFile("lab.xlsx", archiveOf(changed))).samples).toHaveLength(1);
  });

  test("5,000 sheets that all name one part are refused", async () => {
    const changed = withPart("xl/workbook.xml", (xml) => {
      const [tag = ""] = /<sheet [^>]*\/>/.exec(xml) ?? [];
      return xml.replace(tag, tag.repeat(5000));
    });
    expect(await refusal(changed)).toContain("it lists 5000 sheets, and at most 1000 are read");
  });

  test("a shared string of 9 MB is refused with its sheet and row", async () => {
    const changed = withPart(STRINGS, (xml) => xml.replace(">S-1<", `>${"S".repeat(9_000_000)}<`));
    expect(await refusal(changed)).toBe(
      'lab.xlsx sheet "results" row 2: expected cells of at most 32767 characters, found 9000000',
    );
  });

  test.each([
    "../../evil",
    "/etc/passwd",
    "C:\\evil",
    "CON",
    "__proto__",
    "constructor",
    "\u202eslx.",
    "a\u001b[31m",
  ])("a sheet named %j is read, and its rows say its name", async (name) => {
    const changed = withPart("xl/workbook.xml", (xml) =>
      xml.replace('name="results"', `name="${name.replaceAll("\u001b", "&#27;")}"`),
    );
    const file = await readLabFile("lab.xlsx", archiveOf(changed));
    expect(file.samples).toHaveLength(1);
    expect(file.samples[0]?.origin[0]?.sheet).toBe(name);
  });

  test("an error cell keeps its text behind a formula that has brackets in it", async () => {
    const changed = withPart(SHEET, (xml) =>
      xml.replace(/<c r="F2".*?<\/c>/s, '<c r="F2" t="e"><f>IF(1&lt;2,"a&gt;b",NA())</f><v>#N/A</v></c>'),
    );
    const { quarantine } = await readLabFile("lab.xlsx", archiveOf(changed));
    expect(quarantine[0]?.issues[0]).toMatchObject({ column: "water (mg/kg)", value: "#N/A" });
  });
});

test("a workbook cut off at every hundredth byte is refused, and nothing hangs", async () => {
  const bytes = archiveOf(sound);
  for (let at = 4; at < bytes.length; at += 100) {
    await expect(readLabFile("lab.xlsx", bytes.slice(0, at))).rejects.toThrow("expected a workbook");
  }
  expect(bytesInMemory("lab.xlsx", bytes).size).toBeGreaterThan(1000);
});
