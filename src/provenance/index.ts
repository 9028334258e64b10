export { type Assumption, joinAssumptions } from "./assumption.js";
export { CART_CAUTIONS, type Caution, DEFERENCE, SHORT_DEFERENCE } from "./cautions.js";
export { columnLetters, describePlaces, isColumn, placeOfColumn, readPlaces } from "./places.js";
export { describeSource, SOURCES, type Source, type SourceKey, type SourceStanding } from "./sources.js";
export { VERSION } from "./version.js";
