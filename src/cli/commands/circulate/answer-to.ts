import {
  answerCirculation,
  type CirculationAnswer,
  type CirculationQuestion,
} from "../../../circulation/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import type { Read } from "./settings.js";

/** The answer, with what the reading of the question rests on. */
export function answerTo({ value, assumptions }: Read<CirculationQuestion>): CirculationAnswer {
  const found = answerCirculation(value);
  return { ...found, assumptions: joinAssumptions(assumptions, found.assumptions) };
}
