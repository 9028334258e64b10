import { keyOfName } from "./names.js";

/** What the register of one aircraft has in common however it is written: in any case, with or without spaces and dashes. */
export function keyOfRegister(register: string): string {
  const marks = /[^\p{L}\p{N}]/gu;
  return register.normalize("NFKC").toUpperCase().replace(marks, "") || register.trim();
}

/**
 * Whether two registers are of one aircraft: they differ in case, spaces and dashes alone.
 *
 * @example
 * isSameAircraft("X-17", "x 17"); // => true
 */
export function isSameAircraft(one: string, other: string): boolean {
  return keyOfRegister(one) === keyOfRegister(other);
}

/** Whether a person could take one register for another that is not written alike: O for 0, I for 1, zeros left out. */
export function looksLikeAircraft(one: string, other: string): boolean {
  return !isSameAircraft(one, other) && keyOfName(one, "looks") === keyOfName(other, "looks");
}
