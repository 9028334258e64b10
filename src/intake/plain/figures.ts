/** What stands for a cell that holds more than figures and a point. */
export const NOT_FIGURES = -1;

/** With so many figures a whole number and its power of ten are exact, and their quotient is the nearest number. */
export const MOST_FIGURES = 15;
export const POWERS = Float64Array.from({ length: MOST_FIGURES + 1 }, (_, power) => 10 ** power);
