/** An option that may be given several times. */
export function collect(text: string, before: string[] | undefined): string[] {
  return [...(before ?? []), text];
}
