import { tryParseFluidSpecification } from "../../fluids/index.js";
import { grouped } from "../../numeric/index.js";
import { fluidsSaidIn } from "../../samples/index.js";
import { type RawCell, type RawRow, type RowSource, textOf } from "../rows/row.js";
import { plainName } from "./column-map.js";
import { betweenBlanks } from "./labels.js";
import type { Layout } from "./layout.js";
import { type Description, holdsOf, kindsIn, type Naming } from "./meaning.js";
import { MAX_TITLE_LENGTH, type Namer } from "./namer.js";

/** What names the samples of a table and is in no column of it. */
export interface NameAround {
  readonly kind: AroundKind;
  readonly cell: RawCell;
  /** Row of the line that says it; absent where the name of the sheet does. */
  readonly row?: number;
  /** Row of a line before that one that says another. */
  readonly otherRow?: number;
  /**
   * A column names the same as well. Of a cart: what is of another form is the name of something else, under a wide title any
   * letters are.
   */
  readonly hasColumn?: "cart" | "equipment" | "fluid";
}

type AroundKind = Extract<Naming, "cart" | "circuit" | "drawn" | "fluid"> | FillingKind;
/** How the bottles were filled, and their colour; {@link NamesOfTable} takes it where its words are understood. */
export type FillingKind = Extract<Description, "sample-point" | "flowing" | "colour">;
export function isOfFilling(kind: NameAround["kind"]): kind is FillingKind {
  return kind === "sample-point" || kind === "flowing" || kind === "colour";
}

const AROUND_KINDS: readonly string[] = [
  ...(["cart", "circuit", "drawn", "fluid"] as const),
  ...(["sample-point", "flowing", "colour"] as const),
] satisfies AroundKind[];

/**
 * What a title with its cell names. "Lubricant: MIL-PRF-5606" names a fluid; "Fluid: see column" and "Fluid 2026-114" name
 * none, and "Fluids: A and B" does not say which of them it is.
 */
function kindOf(title: string, cell: string, isMarked: boolean, name: Namer): AroundKind | undefined {
  const fluids = fluidsSaidIn(title, cell).length;
  if (fluids > 0) return fluids === 1 ? "fluid" : undefined;
  const kind = holdsOf(name(title)) ?? "";
  const isElsewhere = kind === "fluid" && (!isMarked || ELSEWHERE.test(cell));
  return AROUND_KINDS.includes(kind) && !isElsewhere ? (kind as AroundKind) : undefined;
}

const ELSEWHERE = /\b(?:see|various|several|siehe|verschiedene|voir|divers|vedi|ver|zie)\b/i;

/** "Cart: QB-01", "Cart QB-01". */
const LABELLED = /^([^:=]{2,40}?)(?:\s*[:=]\s*(\S.{0,100})| ([^\s:=]{0,40}\d[^\s:=]{0,40}))$/;

/** What a line such as "Cart: QB-01" says, in one cell or in pairs of cells. */
export function namesInLine(row: RawRow, name: Namer): TitledName[] {
  const written = row.cells.filter((cell) => textOf(cell) !== "");
  const one = written.length === 1 ? LABELLED.exec(textOf(written[0])) : null;
  if (one !== null) return namesInPairs([one[1] ?? "", one[2] ?? one[3] ?? ""], one[3] === undefined, name);
  const inPlace = namesInPairs(betweenBlanks(row), true, name);
  return inPlace.length > 0 ? inPlace : namesInPairs(written, true, name);
}

type TitledName = NameAround & { readonly title: string };

/** Labels and their values by turns; a label without a value names nothing. */
function namesInPairs(pairs: readonly RawCell[], isMarked: boolean, name: Namer): TitledName[] {
  if (pairs.length > 8) return [];
  const found = pairs.flatMap((label, index): TitledName[] => {
    const cell = pairs[index + 1] ?? "";
    if (index % 2 !== 0 || textOf(cell) === "") return [];
    const title = textOf(label).replace(/[:=]$/, "").trimEnd();
    const kind = kindOf(title, textOf(cell), isMarked, name);
    return kind === undefined ? [] : [{ kind, cell, title }];
  });
  // A label and a title look alike: "Cart, Circuit" is a header and names no cart.
  return found.some(({ cell }) => name(textOf(cell)).recognition.kind === "known") ? [] : found;
}

/**
 * Whether a line that is not read as one of names may still give the rows below it another name: it has a title of such
 * names, or a word that differs from the name before it in its figures alone, as QB-02 does from QB-01.
 */
export function mayNameAnother({ cells }: RawRow, { kind, cell }: NameAround, name: Namer): boolean {
  const words = cells.flatMap((one) =>
    textOf(one)
      .slice(0, MAX_TITLE_LENGTH)
      .split(/[\s:=;,()]+/),
  );
  const before = textOf(cell);
  return (
    words.some((word) => /\d/.test(word)) &&
    words.some((word) => {
      return (
        holdsOf(name(word)) === kind ||
        (/\d/.test(word) && word !== before && formOf(word) === formOf(before))
      );
    })
  );
}

/** A name with its figures as one: carts of a fleet are called alike. */
export function formOf(name: string): string {
  return name.toLowerCase().replace(/\d+/g, "9");
}

/** A counter is equipment too, but no cart. */
const OF_CART = /cart|wagen|chariot|carr|\bkar|gpu|ground power/i;

/** Lines that name the cart: one under a wider title counts next to "Cart" where it names something of that form. */
function ofCart<N extends NameAround & { readonly title: string }>(lines: readonly N[]): readonly N[] {
  const own = lines.filter(({ title }) => OF_CART.test(title));
  if (own.length === 0) return lines;
  const forms = own.map(({ cell }) => formOf(textOf(cell)));
  return lines.filter((line) => own.includes(line) || forms.includes(formOf(textOf(line.cell))));
}

/** Whether a cell of a column names another cart than a line above it or the name of its sheet, with a name of the same form. */
export function namesOtherCart({ cell, hasColumn }: NameAround, text: string): boolean {
  if (!/\d/.test(text)) return false;
  const [one, other] = [textOf(cell), text].map(formOf);
  const form = (name = "") => (hasColumn === "cart" ? name.replace(/\p{L}+/gu, "a") : name);
  const isSame = plainName(textOf(cell)) === plainName(text);
  return !isSame && form(one) === form(other);
}

/** Of two lines that give two names neither is chosen, so the rows below wait; of a fluid or a port both are said. */
function cellOfTwo({ kind, cell }: NameAround, other: NameAround): RawCell {
  if (kind === "cart" || kind === "circuit" || kind === "drawn") return "";
  const [one, two] = [textOf(cell), textOf(other.cell)];
  const fluid = kind === "fluid" ? tryParseFluidSpecification(one) : undefined;
  return fluid !== undefined && fluid === tryParseFluidSpecification(two) ? two : `${one}; ${two}`;
}

/** Names that programs and people give to sheets, and that no cart has. */
const SHEET =
  /^(?:sheet|tabelle|blatt|feuil(?:le)?|hoja|foglio|blad|planilha|folha|table|page|data|results?|report|lab|samples?|counts?|chemistry|[a-z]{3,9}[ -]?(?:19|20)\d\d|(?:19|20)\d\d)[\W_]*\d*$/i;

/** What the lines above a table and the name of its sheet say, of the names that it has no column for. */
export function namesAround(
  source: RowSource,
  { columns, headerRows, shape }: Layout,
  head: readonly RawRow[],
  name: Namer,
): NameAround[] {
  const first = headerRows[0]?.row ?? 1;
  if (shape === "block") return [];
  const kinds = kindsIn(columns);
  const { sheet = "", around = head } = source;
  const lines = around
    .filter(({ row }) => row < first)
    .flatMap((row) =>
      namesInLine(row, name).map((found) => ({ ...found, ...(row.row > 0 && { row: row.row }) })),
    );
  const isName = /\p{L}/u.test(sheet) && /\d/.test(sheet) && !SHEET.test(sheet);
  const carts = lines.filter(({ title }) => OF_CART.test(title)).map(({ cell }) => cell);
  const found = new Map<AroundKind, NameAround>(isName ? [["cart", { kind: "cart", cell: sheet }]] : []);
  for (const [kind, all] of grouped(lines, (line) => line.kind)) {
    const ofKind = kind === "cart" ? ofCart(all) : all;
    const { title: _, ...last } = ofKind.at(-1) as (typeof lines)[number];
    const other = ofKind.find(({ cell }) => textOf(cell) !== textOf(last.cell));
    const otherRow = other?.row === undefined ? {} : { otherRow: other.row };
    found.set(kind, other === undefined ? last : { ...last, cell: cellOfTwo(other, last), ...otherRow });
  }
  return [...found.values()].flatMap((one): NameAround[] => {
    if (!kinds.has(one.kind)) return [one];
    const isOfDocument = one.row === undefined && one.cell !== sheet;
    if (isOfDocument || textOf(one.cell) === "") return [];
    if (one.kind === "fluid") return [{ ...one, hasColumn: "fluid" }];
    if (one.kind !== "cart") return [];
    return [{ ...one, hasColumn: carts.includes(one.cell) ? "cart" : "equipment" }];
  });
}
