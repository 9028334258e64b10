// A program as a user writes it, with every entry point of the package that needs no optional package. Its argument is the folder of a fleet.
import {
  classify,
  cumulativeCounts,
  formatIso4406,
  judgeCarts,
  limitsOfTarget,
  parseTarget,
  planCirculation,
} from "siltbook";
import { Book } from "siltbook/book";
import { drawCleanUpCurve } from "siltbook/figures";
import { readFleetFiles } from "siltbook/intake";
import { NotebookError, richOf, show } from "siltbook/notebook";
import { renderReport } from "siltbook/report";

const fleetFolder = process.argv[2] ?? ".";

const sizes = [4, 6, 14] as const;
const counts = cumulativeCounts(
  sizes.map((sizeUm, place) => ({ sizeUm, count: [15000, 1200, 75][place] ?? 0 })),
  1,
);
const { iso4406 } = classify(counts);
console.log("class", iso4406 && formatIso4406(iso4406));

const plan = planCirculation({
  volumeL: 60,
  flowLpm: 45,
  betas: sizes.map((sizeUmC) => ({ sizeUmC, beta: 1000 })),
  start: counts,
  limits: limitsOfTarget(parseTarget("17/15/12")),
});
console.log("plan", plan.reachable ? plan.governing : plan.obstacle);

const on = "2026-03-14";
const fleet = await readFleetFiles({
  carts: `${fleetFolder}/carts.json`,
  requirement: `${fleetFolder}/requirement.json`,
  samples: [`${fleetFolder}/samples.csv`],
});
const circuits = judgeCarts({ ...fleet, on });
console.log("verdicts", circuits.map(({ verdict }) => verdict.verdict).join(" "));

const book = Book.open("fleet.siltbook", { create: true });
const taken = await book.takeIn(`${fleetFolder}/samples.csv`, { today: on });
console.log(`book ${book.sampleCount} samples, ${taken.quarantine.length} in quarantine, ${taken.rows} rows`);
book.close();

const { document: requirements, quarantine } = fleet;
console.log("report", renderReport({ on, requirements, circuits, quarantine }).startsWith("<!doctype html>"));
console.log("figure", drawCleanUpCurve(plan, "cart C-1").startsWith("<svg"));
console.log("notebook", richOf(plan).kind);
try {
  show(plan);
} catch (error) {
  console.log(error instanceof NotebookError && error.message);
}
