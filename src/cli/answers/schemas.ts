import * as z from "zod";
import { type AnswerName, idOfAnswer } from "../answer.js";
import { ANSWERS } from "./index.js";
import { MEANING_OF_NAME } from "./names.js";

/** The commands that answer in JSON. */
export const ANSWER_NAMES = Object.keys(ANSWERS) as AnswerName[];

/** A part of a JSON Schema. */
interface Part {
  [keyword: string]: unknown;
  properties?: Record<string, Part>;
}

/**
 * The JSON Schema of the answers of a command, draft 2020-12.
 *
 * The published one lets fields and codes through that it does not know, because a later siltbook may add some to the same
 * version.
 *
 * @param command - name of the command
 * @param isClosed - let nothing through that is not described, as the tests want it
 */
export function schemaOfAnswer(command: AnswerName, isClosed = false): object {
  const [title, ...forms] = ANSWERS[command];
  const id = idOfAnswer(command);
  const schema = z.literal(id).describe("Which description the answer follows.");
  const named = forms.map((form) => z.object({ schema, ...form.shape }));
  const [only] = named;
  // Results have been checked where they came in: an answer says what is in them, not what was checked.
  const described = z.toJSONSchema(only !== undefined && named.length === 1 ? only : z.union(named), {
    io: "input",
  }) as Part;
  finish(described, isClosed);
  return { $id: id, title: `siltbook ${command} --json: ${title}`, ...described };
}

/** Opens or closes every part of a schema, and says of every field what it means. */
function finish(part: Part, isClosed: boolean): void {
  // The format says it all; its pattern takes four lines for every day.
  if (part.format === "date") delete part.pattern;
  if (part.grows === true) {
    delete part.grows;
    if (!isClosed) {
      part.examples = part.enum;
      delete part.enum;
    }
  }
  if (part.properties !== undefined) {
    if (isClosed) part.additionalProperties = false;
    else delete part.additionalProperties;
    for (const [name, property] of Object.entries(part.properties)) {
      const meaning = MEANING_OF_NAME[name];
      if (meaning !== undefined) property.description ??= meaning;
    }
  }
  for (const inner of partsOf(part)) finish(inner, isClosed);
}

/** The schemas that a schema holds. */
export function partsOf(part: Part): Part[] {
  const { properties, $defs, items, prefixItems, anyOf, oneOf, additionalProperties } = part;
  const named = [properties, $defs].flatMap((parts) => Object.values(parts ?? {}));
  return [...named, items, prefixItems, anyOf, oneOf, additionalProperties]
    .flat()
    .filter((inner): inner is Part => typeof inner === "object" && inner !== null);
}
