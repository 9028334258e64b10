import type { ErrorObject, ValidateFunction } from "ajv";
import { Ajv2020 } from "ajv/dist/2020.js";
import formats from "ajv-formats";
import type { AnswerName } from "../../src/cli/answer.js";
import { schemaOfAnswer } from "../../src/cli/answers/schemas.js";

const compiled = new Map<string, ValidateFunction>();

/** A check of answers by a general validator of JSON Schema; closed: nothing may be in an answer that is not described. */
export function validatorOf(command: AnswerName, isClosed: boolean): ValidateFunction {
  const name = `${command} ${isClosed}`;
  const known = compiled.get(name);
  if (known !== undefined) return known;
  const ajv = new Ajv2020({ allErrors: true });
  formats.default(ajv);
  const made = ajv.compile(schemaOfAnswer(command, isClosed));
  compiled.set(name, made);
  return made;
}

/** @throws when an answer is not as it is described, to the last field */
export function mustBeAsDescribed(command: AnswerName, answer: unknown): void {
  const validate = validatorOf(command, true);
  if (!validate(answer)) throw new Error(`${command}: ${nearest(validate.errors ?? []).join("; ")}`);
}

/** The errors of the form that the answer is nearest to; those of $defs are of every form. */
function nearest(errors: readonly ErrorObject[]): string[] {
  const formOf = ({ schemaPath }: ErrorObject) => /^#\/anyOf\/\d+/.exec(schemaPath)?.[0] ?? "";
  const forms = [...new Set(errors.map(formOf))].map((form) =>
    errors.filter((error) => formOf(error) === form),
  );
  const [fewest = []] = forms.sort((one, other) => one.length - other.length);
  return fewest.map(
    ({ instancePath, message, params }) => `${instancePath} ${message} ${JSON.stringify(params)}`,
  );
}
