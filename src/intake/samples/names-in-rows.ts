import { tryParseFluidSpecification } from "../../fluids/index.js";
import { plainName } from "../layout/column-map.js";
import { formOf, type NameAround } from "../layout/names-around.js";
import { textOf } from "../rows/row.js";
import type { Entry } from "./entry.js";

const KINDS = ["fluid", "cart", "circuit"] as const;
type Kind = (typeof KINDS)[number];
/** Names of one kind that are kept; a file with more of them is no report that one line speaks of. */
const MAX_NAMES = 1000;

/** What the rows of a table call their fluids, carts and circuits, so that a line of text can be compared with them. */
export class NamesInRows {
  readonly #names: Readonly<Record<Kind, Map<string, string>>> = {
    fluid: new Map(),
    cart: new Map(),
    circuit: new Map(),
  };
  readonly #last: Partial<Record<Kind, string>> = {};

  see({ naming }: Entry): void {
    for (const kind of KINDS) {
      const text = textOf(naming[kind]?.cell);
      const names = this.#names[kind];
      if (text === "" || text === this.#last[kind] || names.size >= MAX_NAMES) continue;
      this.#last[kind] = text;
      names.set(meantBy(kind, text), text);
    }
  }

  /** Whether a line names what some of the rows before it have. */
  have({ kind, cell }: NameAround): boolean {
    const names = isKept(kind) ? this.#names[kind] : undefined;
    return names?.has(meantBy(kind as Kind, textOf(cell))) === true;
  }

  /** Whether a line names what none of the rows before it has: another fluid or circuit, or a cart that is named as they are. */
  areContradictedBy({ kind, cell }: NameAround): boolean {
    const names = isKept(kind) ? this.#names[kind] : undefined;
    if (names === undefined || names.size === 0 || names.size >= MAX_NAMES) return false;
    const text = textOf(cell);
    if (this.have({ kind, cell })) return false;
    if (kind === "fluid") return tryParseFluidSpecification(text) !== undefined;
    return kind === "circuit" || [...names.values()].some((name) => formOf(name) === formOf(text));
  }
}

function isKept(kind: NameAround["kind"]): kind is Kind {
  return kind === "fluid" || kind === "cart" || kind === "circuit";
}

function meantBy(kind: Kind, text: string): string {
  return (kind === "fluid" ? tryParseFluidSpecification(text) : undefined) ?? plainName(text);
}

/** Whether two texts name two fluids that are known. */
export function areTwoFluids(one: string, other: string): boolean {
  const [a, b] = [one, other].map((text) => tryParseFluidSpecification(text));
  return a !== undefined && b !== undefined && a !== b;
}
