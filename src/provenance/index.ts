export { type Assumption, joinAssumptions } from "./assumption.js";
export { CART_CAUTIONS, type Caution, DEFERENCE } from "./cautions.js";
export { SOURCES, type Source, type SourceKey, type Standing, saySource } from "./sources.js";
export { VERSION } from "./version.js";
