/**
 * The numbers of bottles from a first one on, counted up in its last digits: 26-0401, 26-0402.
 *
 * @param first - ends in digits; their leading zeros are kept
 * @throws RangeError for a number that does not end in digits, or has no digits left to count on
 */
export function bottleNumbers(first: string, howMany: number): string[] {
  let at = first.length;
  while (/\d/.test(first[at - 1] ?? "")) at -= 1;
  const [head, digits] = [first.slice(0, at), first.slice(at)];
  const last = BigInt(digits || "0") + BigInt(Math.max(0, howMany - 1));
  if (digits === "" || String(last).length > digits.length) {
    throw new RangeError(
      `expected the number of a first bottle that ends in digits with room for ${howMany}, such as "26-0401", found "${first}"`,
    );
  }
  return Array.from(
    { length: howMany },
    (_, index) => head + String(BigInt(digits) + BigInt(index)).padStart(digits.length, "0"),
  );
}
