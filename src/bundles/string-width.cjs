// How wide a text is on a terminal. The package knows emoji by a pattern that takes longer to build than a whole table to draw,
// and these characters are all one column wide.
const PLAIN =
  /^[ -~\u00a0-\u00a8\u00aa-\u00ac\u00af-\u02ff\u0370-\u03ff\u2010-\u2027\u2030\u2190-\u2193\u2260-\u2265]*$/;

module.exports = (text) =>
  PLAIN.test(text) ? text.length : require("../../node_modules/string-width/index.js")(text);
