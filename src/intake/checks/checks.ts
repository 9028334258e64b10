import { checkStatedClass } from "../../cleanliness/index.js";
import { daysBetween } from "../../fitness/index.js";
import type { Measured, ReportedClass, Sample } from "../../samples/index.js";
import { type Meaning, QUANTITIES } from "../layout/meaning.js";
import { doubtOfClass, doubtOfCounts } from "./count-checks.js";
import { CHECKS, type CheckCode, type IssueCode } from "./issue.js";

/** A check that a sample does not stand. */
export interface Finding {
  readonly code: IssueCode;
  /** What the doubtful cell holds, so that its column can be named. */
  readonly holds: Meaning["holds"];
  /** Of several columns of classes, the one with this standard. */
  readonly standard?: ReportedClass["standard"];
  readonly expected: string;
}

/** Less water than this is not found in hydraulic fluid that has met air. Common practice, no source. */
export const MIN_WATER_PPM = 3;
/** More water than this, 5 %, would be a separate layer and not a result of a fluid. Common practice, no source. */
export const MAX_WATER_PPM = 50_000;

/** Titration finds a hundredth; a tenth of that is nothing that was measured. Common practice, no source. */
const MIN_ACID_MG_KOH_PER_G = 0.001;

/** One rule: what of a sample cannot be true. `today` is an ISO 8601 day, absent where no day is too late. */
export type SampleCheck = (sample: Sample, today: string | undefined) => Finding[];

/**
 * Every rule of what can be true of one sample. Whatever a file looks like and wherever its samples go, they pass these.
 */
export const SAMPLE_CHECKS: SampleCheck[] = [
  checkDays,
  checkCounts,
  checkWater,
  checkAcid,
  checkProperties,
  checkClasses,
];

/**
 * Checks whether what a sample says can be true, from the sample alone and the day of reading.
 *
 * @param today - ISO 8601 day; without it days in the future are not looked for
 */
export function checkSample(sample: Sample, today: string | undefined): Finding[] {
  const findings: Finding[] = [];
  for (const check of SAMPLE_CHECKS) {
    const found = check(sample, today);
    if (found.length > 0) findings.push(...found);
  }
  return findings;
}

function checkCounts(sample: Sample): Finding[] {
  const doubt = doubtOfCounts(sample);
  return doubt === undefined ? [] : [finding(doubt.code, "count", doubt.expected)];
}

/**
 * More days than this do not lie between drawing a bottle and its receipt or report, in the usual run of things: bottles are
 * sent within days, and a year mistyped in January lies 365 off. Common practice, no source.
 */
export const MAX_DAYS_TO_LABORATORY = 60;

function checkDays({ drawnOn, receivedOn, reportedOn }: Sample, today: string | undefined): Finding[] {
  const findings: Finding[] = [];
  if (receivedOn !== undefined && drawnOn > receivedOn) {
    findings.push(
      finding("drawn-after-received", "drawn", `a day not after ${receivedOn}, when it was received`),
    );
  }
  const known = receivedOn ?? drawnOn;
  if (reportedOn !== undefined && known > reportedOn) {
    findings.push(finding("received-after-reported", "reported", `a day not before ${known}`));
  }
  const days = [
    ["drawn", drawnOn],
    ["received", receivedOn],
    ["reported", reportedOn],
  ] as const;
  const late = days.find(
    ([what, day]) =>
      what !== "drawn" && day !== undefined && daysBetween(drawnOn, day) > MAX_DAYS_TO_LABORATORY,
  );
  if (late !== undefined) {
    const [what, day] = late;
    findings.push(
      finding(
        "drawn-long-before-received",
        "drawn",
        `a day at most ${MAX_DAYS_TO_LABORATORY} days before ${day}, when it was ${what}`,
      ),
    );
  }
  if (today === undefined) return findings;
  const latest = lastDay(today);
  for (const [holds, day] of days) {
    if (day !== undefined && day > latest) {
      findings.push(finding("date-in-the-future", holds, `a day not after today, ${today}`));
    }
  }
  return findings;
}

let lastAsked = { today: "", after: "" };

/**
 * The last day that is not in the future: the place of the cart may be a time zone ahead of the place of the computer.
 * Every sample asks for the same day.
 */
export function lastDay(today: string): string {
  if (lastAsked.today !== today) {
    const after = new Date(Date.parse(`${today}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);
    lastAsked = { today, after };
  }
  return lastAsked.after;
}

/** A number of 0, or "less than 0": a result that no method can have. */
function isZero({ value, limit }: Measured): boolean {
  return value === 0 && limit !== "above" && limit !== "at-least";
}

function checkWater({ waterPpm }: Sample): Finding[] {
  if (waterPpm === undefined) return [];
  const { value, limit } = waterPpm;
  if (isZero(waterPpm)) return [finding("water-zero", "water", "water above 0, or a limit such as < 50")];
  if (value > 0 && value < MIN_WATER_PPM && limit !== "above" && limit !== "at-least") {
    return [
      finding(
        "water-per-cent-as-ppm",
        "water",
        `water of ${MIN_WATER_PPM} ppm or more, or its unit written as %`,
      ),
    ];
  }
  if (value > MAX_WATER_PPM && limit !== "below" && limit !== "at-most") {
    return [
      finding(
        "water-ppm-as-per-cent",
        "water",
        `water of at most ${MAX_WATER_PPM / 10_000} %, or its unit written as ppm`,
      ),
    ];
  }
  return [];
}

function checkAcid({ acidMgKohPerG }: Sample): Finding[] {
  if (acidMgKohPerG === undefined) return [];
  const { value, limit } = acidMgKohPerG;
  if (!isZero(acidMgKohPerG) && (value >= MIN_ACID_MG_KOH_PER_G || limit !== undefined)) return [];
  return [finding("acid-zero", "acid", "an acid number above 0, or a limit such as < 0.05")];
}

function checkProperties(sample: Sample): Finding[] {
  const findings: Finding[] = [];
  for (const [field, holds] of PROPERTIES) {
    const measured = sample[field];
    if (measured === undefined || !isZero(measured)) continue;
    const expected = `a ${QUANTITIES[holds].says} above 0, or a blank where it was not measured`;
    findings.push(finding("property-zero", holds, expected));
  }
  return findings;
}

const PROPERTIES = [
  ["viscosity40Mm2PerS", "viscosity40"],
  ["density15KgPerM3", "density15"],
] as const;

function checkClasses({ counts, reportedClasses }: Sample): Finding[] {
  if (reportedClasses === undefined) return [];
  return reportedClasses.flatMap((reported) => {
    const fault = checkStatedClass(reported, counts);
    const { standard } = reported;
    if (fault === undefined) {
      const none = counts === undefined ? doubtOfClass(reported) : undefined;
      return none === undefined ? [] : [{ ...finding("counts-all-zero", "class", none), standard }];
    }
    const ofCounts = fault.computed && `the class of the counts, ${standard} ${fault.computed}`;
    const expected = [fault.code === "class-cannot-be" && fault.expected, ofCounts]
      .filter(Boolean)
      .join(": ");
    return [{ ...finding(fault.code, "class", expected), standard }];
  });
}

function finding(code: CheckCode, holds: Meaning["holds"], expected: string): Finding {
  return { code, holds, expected: `${expected} (${CHECKS[code]})` };
}
