export { type Assumption, joinAssumptions } from "./assumption.js";
export type { Source, SourceStanding } from "./bibliography/source.js";
export { CART_CAUTIONS, type Caution, DEFERENCE, SHORT_DEFERENCE } from "./cautions.js";
export { frozen } from "./frozen.js";
export {
  columnLetters,
  describeOrigin,
  describePlaces,
  isColumn,
  placeOfColumn,
  readPlaces,
} from "./places.js";
export { shown, visible } from "./shown.js";
export { describeSource, SOURCES, type SourceKey } from "./sources.js";
export { VERSION } from "./version.js";
