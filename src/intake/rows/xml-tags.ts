/** An opening tag of XML. */
export interface Tag {
  /** Without its prefix, as the workbook reader takes it. */
  readonly name: string;
  /** What stands between the name and the closing bracket. */
  readonly attributes: string;
  /** Whether nothing stands inside it. */
  readonly isEmpty: boolean;
  /** Where the text after it begins. */
  readonly end: number;
}

/** No tag of a workbook is longer; a longer one was made to keep a reader busy. */
const MAX_TAG_LENGTH = 100_000;

/** The bracket with which a tag begins, as a byte. */
export const LESS = 0x3c;
const SLASH = 0x2f;
const MARK = 0x21;
const QUESTION = 0x3f;

/**
 * The opening tags of an XML text, in one pass whatever is in it.
 *
 * @throws RangeError for a tag or a comment that does not end, and for declarations and sections that begin with "<!": no
 *   workbook has them, and its reader would pass over what they hold
 */
export function* tagsOf(xml: string): Generator<Tag> {
  for (let start = xml.indexOf("<"); start !== -1; ) {
    const kind = xml.charCodeAt(start + 1);
    if (kind === MARK || kind === QUESTION) {
      start = xml.indexOf("<", endOfOther(xml, start, kind));
      continue;
    }
    const close = endOfTag(xml, start);
    if (kind !== SLASH) yield tagBetween(xml, start + 1, close);
    start = xml.charCodeAt(close + 1) === LESS ? close + 1 : xml.indexOf("<", close);
  }
}

/** The end of a comment or of an instruction to the reader. */
function endOfOther(xml: string, start: number, kind: number): number {
  if (kind === MARK && !xml.startsWith("<!--", start)) {
    throw new RangeError(`it declares "${xml.slice(start, start + 20)}", which a workbook never does`);
  }
  const end = xml.indexOf(kind === MARK ? "-->" : "?>", start);
  if (end === -1) throw new RangeError("a comment in it does not end");
  return end;
}

/** The place of the bracket that closes a tag; brackets in quoted values do not. */
function endOfTag(xml: string, start: number): number {
  let from = start;
  for (;;) {
    const close = xml.indexOf(">", from);
    if (close === -1 || close - start > MAX_TAG_LENGTH) {
      throw new RangeError(`the tag "${xml.slice(start, start + 20)}" in it does not end`);
    }
    const quote = openQuote(xml, from, close);
    if (quote === -1) return close;
    const closing = xml.indexOf(xml[quote] as string, close);
    if (closing === -1 || closing - start > MAX_TAG_LENGTH) {
      throw new RangeError(`a value in the tag "${xml.slice(start, start + 20)}" does not end`);
    }
    from = closing + 1;
  }
}

/** The place of a quotation mark between two places that is not closed between them; -1 when there is none. */
function openQuote(xml: string, from: number, to: number): number {
  let open = -1;
  for (let at = from; at < to; at += 1) {
    const mark = xml[at];
    if (mark !== '"' && mark !== "'") continue;
    if (open === -1) open = at;
    else if (xml[open] === mark) open = -1;
  }
  return open;
}

function tagBetween(xml: string, start: number, close: number): Tag {
  const isEmpty = xml.charCodeAt(close - 1) === SLASH;
  const inside = xml.slice(start, isEmpty ? close - 1 : close);
  const blank = inside.search(/\s/);
  const name = blank === -1 ? inside : inside.slice(0, blank);
  return {
    name: name.slice(name.indexOf(":") + 1),
    attributes: blank === -1 ? "" : inside.slice(blank),
    isEmpty,
    end: close + 1,
  };
}

const ATTRIBUTE = /\s+([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/y;

/**
 * The attributes of a tag by name.
 *
 * @throws RangeError when they cannot be read in one way
 */
export function attributesOf({ name, attributes }: Tag): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const end = attributes.trimEnd().length;
  for (ATTRIBUTE.lastIndex = 0; ATTRIBUTE.lastIndex < end; ) {
    const match = ATTRIBUTE.exec(attributes);
    const key = match?.[1] ?? "";
    if (match === null || found.has(key)) throw new RangeError(`a tag "${name}" in it cannot be read`);
    found.set(key, plainText(match[2] ?? match[3] ?? ""));
  }
  return found;
}

/** A text of XML with the five names of characters replaced. */
export function plainText(text: string): string {
  if (!text.includes("&")) return text;
  return text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&apos;", "'")
    .replaceAll("&amp;", "&");
}
