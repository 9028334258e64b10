/**
 * A page with the identifiers of its pictures numbered from one on. The drawing library counts them through the whole run of a
 * program, and the same input is to give the same page.
 */
export function withNumberedIds(page: string): string {
  const numbers = new Map<string, number>();
  return page.replace(/( id="| clip-path="url\(#)plot-clip-(\d+)/g, (_, before: string, id: string) => {
    const number = numbers.get(id) ?? numbers.size + 1;
    numbers.set(id, number);
    return `${before}plot-clip-${number}`;
  });
}
