import type * as z from "zod";
import { cartsFileSchema, requirementsFileSchema } from "../samples/index.js";
import { IntakeError } from "./issue.js";

/**
 * Reads a carts file.
 *
 * @param file - name for messages
 * @param text - JSON
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function readCartsFile(file: string, text: string): z.infer<typeof cartsFileSchema> {
  return readJson(file, text, cartsFileSchema);
}

/**
 * Reads a requirements file.
 *
 * @param file - name for messages
 * @param text - JSON
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function readRequirementsFile(file: string, text: string): z.infer<typeof requirementsFileSchema> {
  return readJson(file, text, requirementsFileSchema);
}

/** Reads JSON and checks it; every problem is named with its place. */
export function readJson<S extends z.ZodType>(file: string, text: string, schema: S): z.infer<S> {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    throw new IntakeError(`${file}: expected JSON, ${(error as Error).message}`, { cause: error });
  }
  const result = schema.safeParse(data);
  if (result.success) return result.data;
  const problems = result.error.issues.map(
    (issue) => `${issue.path.join(".") || "(file)"}: ${issue.message}`,
  );
  throw new IntakeError(`${file}: ${problems.join("; ")}`);
}
