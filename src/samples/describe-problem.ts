import type * as z from "zod";

/**
 * A rule of our own that says only what it expects: what was found is added where the problem is described.
 *
 * @param expected - for example "a code of ISO 4406 such as 18/16/13"
 */
export function expecting(expected: string) {
  return { message: `expected ${expected}`, params: { expected } };
}

/** The range of the numbers; larger ones are read as infinite. */
const HELD_NUMBER = "a number between -1.8e308 and 1.8e308";

/**
 * Says in the words of a person what a schema finds wrong at one place: what was expected, and what stands there.
 *
 * @param issue - what the schema found
 * @param found - what stands at a place of the data that the issue belongs to; undefined where nothing does
 */
export function describeProblem(
  issue: z.core.$ZodIssue,
  found: (path: readonly PropertyKey[]) => string | undefined,
): string {
  if (issue.code === "unrecognized_keys") {
    const names = issue.keys.map((name) => JSON.stringify(name)).join(", ");
    return `${names} ${issue.keys.length === 1 ? "is" : "are"} not known here`;
  }
  const here = found(issue.path);
  const expected = expectationOf(issue);
  if (expected !== undefined) {
    return here === undefined ? `is missing, expected ${expected}` : `expected ${expected}, found ${here}`;
  }
  return issue.code === "invalid_union" ? describeForms(issue, found) : issue.message;
}

/** Why a place that may have several forms fits none of them. */
function describeForms(
  { errors, path }: z.core.$ZodIssueInvalidUnion,
  found: (path: readonly PropertyKey[]) => string | undefined,
): string {
  const forms = errors.map((issues) =>
    issues
      .map((issue) => {
        const place = issue.path.map(String).join(".");
        const said = describeProblem(issue, (inside) => found([...path, ...inside]));
        return place === "" ? said : `${place}: ${said}`;
      })
      .join("; "),
  );
  return `fits no form: (${forms.join(") or (")})`;
}

const TYPES: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list",
  tuple: "a list",
  object: "an object",
  record: "an object",
};

const FORMATS: Readonly<Record<string, string>> = {
  date: "a day such as 2026-03-14",
  time: "a time such as 14:05",
  lowercase: "a text in lower case",
};

/** What was expected, where the issue tells it of its own place. */
function expectationOf(issue: z.core.$ZodIssue): string | undefined {
  switch (issue.code) {
    case "invalid_type":
      return "received" in issue && issue.received === "Infinity" ? HELD_NUMBER : TYPES[issue.expected];
    case "invalid_value":
      return describeChoice(issue.values);
    case "too_small":
      return describeLeast(issue);
    case "too_big":
      if (issue.origin === "array") return `a list of at most ${issue.maximum}`;
      return `a number ${issue.inclusive ? "of at most" : "below"} ${issue.maximum}`;
    case "invalid_format":
      // A pattern of our own has no other message than what it expects.
      return FORMATS[issue.format] ?? issue.message;
    case "custom":
      return issue.params?.expected;
    case "invalid_union":
      return "options" in issue && issue.options !== undefined
        ? describeChoice(issue.options)
        : describeEither(issue.errors);
    default:
      return undefined;
  }
}

/** Forms that a single value may have, such as a time with or without its zone. */
function describeEither(forms: readonly (readonly z.core.$ZodIssue[])[]): string | undefined {
  const said = forms.map(([issue, ...more]) =>
    issue === undefined || more.length > 0 || issue.path.length > 0 ? undefined : expectationOf(issue),
  );
  return said.length === 0 || said.includes(undefined) ? undefined : said.join(" or ");
}

function describeChoice(values: readonly unknown[]): string {
  const said = values.map((value) => JSON.stringify(value)).join(", ");
  return values.length === 1 ? said : `one of ${said}`;
}

function describeLeast({ origin, minimum, inclusive }: z.core.$ZodIssueTooSmall): string {
  // No text has to be longer than that.
  if (origin === "string") return "a text that is not empty";
  if (origin === "array") return `a list of ${minimum} or more`;
  return inclusive ? `a number of ${minimum} or more` : `a number above ${minimum}`;
}
