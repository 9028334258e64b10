// Draws the pictures of docs/standards.md:  npm run docs:figures
import { writeFileSync } from "node:fs";
import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  classifyAs4059Cumulative,
  classifyAs4059Differential,
} from "../src/cleanliness/index.js";
import { cumulativeCounts } from "../src/counts/index.js";
import { drawClassTable } from "../src/figures/index.js";

/** Sample 2 of a reference chart, in particles per mL. */
const CHART_SAMPLE = cumulativeCounts(
  [
    { sizeUm: 4, count: 492 },
    { sizeUm: 6, count: 149 },
    { sizeUm: 14, count: 15 },
    { sizeUm: 21, count: 5 },
    { sizeUm: 38, count: 1 },
  ],
  1,
);

const sample = { counts: CHART_SAMPLE, words: "sample" };
const cumulative = classifyAs4059Cumulative(CHART_SAMPLE);
const differential = classifyAs4059Differential(CHART_SAMPLE);

const pictures = {
  "as4059-cumulative.svg": drawClassTable(
    AS4059_CUMULATIVE,
    `AS4059 cumulative: the sample is class ${cumulative?.class}, and size ${cumulative?.governing} governs`,
    sample,
  ),
  "as4059-differential.svg": drawClassTable(
    AS4059_DIFFERENTIAL,
    `AS4059 differential, NAS 1638: the sample is class ${differential?.class}, and ${differential?.governing} governs`,
    sample,
  ),
};

for (const [file, svg] of Object.entries(pictures)) {
  // A page shows these as images, which cannot take on the page's own ink and paper.
  const onPaper = svg.replace("background: none", "background: white");
  writeFileSync(new URL(`pictures/${file}`, import.meta.url), `${onPaper}\n`);
}
