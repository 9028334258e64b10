import { keyOfRegister } from "../../samples/index.js";

interface Named {
  readonly event: { readonly aircraft?: string | undefined };
}

/** The aircraft of some hookups, each by the first way it is written. */
export function aircraftOf(hookups: readonly Named[]): string[] {
  return [...spellings(hookups).values()].flatMap(([first]) => first ?? []);
}

/** Registers that are written in several ways, each with all of them. */
export function spellingsIn(hookups: readonly Named[]): (readonly string[])[] {
  return [...spellings(hookups).values()].filter((written) => written.length > 1);
}

function spellings(hookups: readonly Named[]): Map<string, string[]> {
  const seen = new Map<string, string[]>();
  for (const { event } of hookups) {
    if (event.aircraft === undefined) continue;
    const written = seen.get(keyOfRegister(event.aircraft)) ?? [];
    if (!written.includes(event.aircraft)) written.push(event.aircraft);
    seen.set(keyOfRegister(event.aircraft), written);
  }
  return seen;
}
