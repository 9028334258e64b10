/** The version of the library, as package.json names it. */
export const VERSION = "0.1.0";
