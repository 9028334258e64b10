/** The variable of the environment that says who works with siltbook, for those who do not want to say it each time. */
const WHO_VARIABLE = "SILTBOOK_BY";

/**
 * Who does something, as stated, or as the environment of the user says.
 *
 * @returns undefined when nobody is stated
 */
export function whoDoesIt(stated: string | undefined): string | undefined {
  return stated ?? (process.env[WHO_VARIABLE]?.trim() || undefined);
}
