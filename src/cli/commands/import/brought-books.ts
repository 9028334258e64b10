import type { BroughtBook } from "../../../book/index.js";
import type { QuarantinedRow } from "../../../intake/index.js";
import { asShellWord } from "../../plain-text.js";
import { formatHowMany } from "../../text.js";

/** What another book has brought, for the answer. */
export function bookAsJson<Issue>(
  { setAside, head, ...book }: BroughtBook,
  issuesAsJson: (rows: readonly QuarantinedRow[]) => Issue[],
) {
  return { ...book, head: head.hash, headNumber: head.number, setAside: issuesAsJson(setAside) };
}

/** What another book has brought, in words. */
export function describeBrought(brought: BroughtBook, ours: string): string {
  const { book, head, entries, files, samples, verdicts, decisions, waiting, withdrawn, importAgain } =
    brought;
  const upTo = `${book}, up to its entry ${head.number}, ${head.hash.slice(0, 12)}`;
  if (entries === 0) return `${upTo}: nothing in it is new here.\n`;
  const { requirementNotTaken: requirement } = brought;
  return [
    `${upTo}: ${entries} of its entries are new here.\n`,
    `  ${formatHowMany(files, "new file")}; samples: ${samples.taken} taken, ${samples.known} known, ${samples.amended} amended, ` +
      `${samples.setAside} set aside; ${formatHowMany(verdicts, "verdict")}, ${formatHowMany(decisions, "decision")} about circuits\n`,
    samples.setAside === 0
      ? ""
      : '  What was set aside contradicts this book and is in quarantine; "siltbook quarantine" says where they differ.\n',
    waiting > 0
      ? `  ${formatHowMany(waiting, "more row")} ${waiting === 1 ? "waits" : "wait"} for a person.\n`
      : "",
    withdrawn.length === 0 ? "" : `  Withdrawn there since, and here too: ${withdrawn.join(", ")}\n`,
    importAgain.length === 0
      ? ""
      : "  Import these files again: they have rows that no book has taken in yet.\n" +
        `    siltbook import --book ${asShellWord(ours)} ${importAgain.map(asShellWord).join(" ")}\n`,
    requirement === undefined
      ? ""
      : `  Its requirement ("${requirement.document}", revision ${requirement.revision}) was not taken: a book judges by its own, which --requirement gives.\n`,
  ].join("");
}
