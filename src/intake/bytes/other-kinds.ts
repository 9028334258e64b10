/** Bytes with which files of some kind begin, as the specifications of the formats have them. */
const SIGNATURES: readonly (readonly [string, string, string?])[] = [
  ["\xd0\xcf\x11\xe0", "an old binary workbook", "save it as xlsx"],
  ["%PDF", "a PDF", "ask the laboratory for its data file"],
  ["\x1f\x8b", "a file packed with gzip", "unpack it"],
  ["7z\xbc\xaf\x27\x1c", "an archive (7z)", "unpack it"],
  ["Rar!", "an archive (rar)", "unpack it"],
  ["(\xb5/\xfd", "a file packed with zstd", "unpack it"],
  ["BZh", "a file packed with bzip2", "unpack it"],
  ["\xfd7zXZ", "a file packed with xz", "unpack it"],
  ["\x89PNG", "an image"],
  ["\xff\xd8\xff", "an image"],
  ["GIF8", "an image"],
  ["II*\0", "an image"],
  ["MM\0*", "an image"],
  ["BM", "an image"],
  ["{\\rtf", "a text document (rtf)", "save its table as text or xlsx"],
  ["SQLite format 3\0", "a database, such as a sample book", "name a book with --book"],
];
const FROM_A_PICTURE = "ask the laboratory for its data file";

/** Where a tar archive says that it is one. */
const TAR = 257;
/** No text has these: not even one in UTF-16, whose plain letters have one zero each. */
const ZEROS = "\0\0\0\0";
/** Names of lines with which mails begin. */
const OF_MAILS = /^(?:mime-version|message-id|return-path|delivered-to|dkim-signature|x-mailer)$/i;
const FROM_A_MAIL = "save the file that is attached to it";

/** Whether a text begins with the lines of a mail: names with values, and longer values going on in the next line. */
function isMail(text: string): boolean {
  const [head = ""] = text.split(/\r?\n\r?\n/, 1);
  const names = head
    .split(/\r?\n/)
    .filter((line) => !/^[ \t]/.test(line))
    .map((line) => /^([\w-]+):/.exec(line)?.[1]?.toLowerCase());
  const isSent = ["from", "subject"].every((name) => names.includes(name));
  return !names.slice(1).includes(undefined) && (isSent || names.some((name) => OF_MAILS.test(name ?? "")));
}

/** What the members of a zip archive show it to be, where it is no workbook. */
const ARCHIVES: readonly (readonly [RegExp, string, string])[] = [
  [/^xl\/workbook\.bin$/, "a binary workbook (xlsb)", "save it as xlsx"],
  [/^word\//, "a text document (docx)", "save its table as text or xlsx"],
  [/^ppt\//, "a presentation (pptx)", "save its table as text or xlsx"],
  [/^META-INF\/manifest\.xml$/, "an OpenDocument file (ods or odt)", "save it as xlsx"],
  [/^Index\/.*\.iwa$/, "a workbook of another program", "save it as xlsx"],
];

/**
 * Names the kind of a file that siltbook does not read, and what to do.
 *
 * @param start - its first bytes
 * @param file - its name, which tells a mail from a workbook in the same container
 * @returns undefined when it may be text, JSON or a zip archive
 */
export function otherKind(start: Uint8Array, file = ""): string | undefined {
  const latin = Buffer.from(start).toString("latin1");
  const text = latin.replace(/^\u00ef\u00bb\u00bf/, "").trimStart();
  const known = SIGNATURES.find(([signature]) => latin.startsWith(signature) || text.startsWith(signature));
  if (known === SIGNATURES[0] && /\.msg$/i.test(file)) return `a mail (msg); ${FROM_A_MAIL}`;
  if (known !== undefined && (known[0] !== "BM" || latin.includes("\0"))) {
    const [, name, remedy = FROM_A_PICTURE] = known;
    return `${name}; ${remedy}`;
  }
  if (/^....ftyp/s.test(latin)) return `an image or a film; ${FROM_A_PICTURE}`;
  if (/^(?:<\?xml[^>]*>\s*)?(?:<!--.*?-->\s*)*<(?:!doctype html|html|head|body|table|meta)\b/is.test(text))
    return "a web page; open it in a spreadsheet and save it as xlsx, or ask the laboratory for its data file";
  if (/^<\?xml|^<[a-z]\w*[ >]/i.test(text)) return "XML; save it as xlsx or text";
  if (isMail(text)) return `a mail; ${FROM_A_MAIL}`;
  if (latin.startsWith("ustar", TAR)) return "an archive (tar); unpack it";
  return latin.includes(ZEROS) ? "a file that holds no text; export the results as text or xlsx" : undefined;
}

/**
 * Names the kind of a zip archive that is no workbook, and what to do.
 *
 * @param names - of its members
 */
export function kindOfArchive(names: readonly string[]): string {
  const known = ARCHIVES.find(([member]) => names.some((name) => member.test(name)));
  return known === undefined ? "a zip archive; unpack it" : `${known[1]}; ${known[2]}`;
}
