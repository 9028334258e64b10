import { shown } from "../provenance/index.js";

/**
 * The two readings of a number with a point and three figures after it: "20.000" is 20 to one person and 20000 to another,
 * who would see a dirty sample pass for a very clean one.
 *
 * @param text - a quantity, or a pair such as "4=20.000"; a power of ten leaves no doubt
 * @returns both numbers; undefined when there is only one reading
 */
function findTwoReadings(text: string): readonly [number, number] | undefined {
  // In a pair the number after the sign, in a quantity the number before its unit.
  const written = /(?:^|=[<>]?)([1-9]\d{0,2})\.(\d{3})(?:$|\s*(?!e\d)[^\d\s.])/i.exec(text);
  return written === null
    ? undefined
    : [Number(`${written[1]}.${written[2]}`), Number(`${written[1]}${written[2]}`)];
}

/** "may be 20 or 20000; …" for a text with two readings; undefined when there is only one. */
export function describeTwoReadings(text: string): string | undefined {
  const readings = findTwoReadings(text);
  if (readings === undefined) return undefined;
  const choice = "write a whole number, or other than three figures after the point";
  return `"${shown(text)}" may be ${readings[0]} or ${readings[1]}; ${choice}`;
}
