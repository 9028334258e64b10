import type { Appearance, DescribedPart, Requirement, Sample } from "../../samples/index.js";
import { type Evidence, isOlder } from "../evidence/evidence.js";
import type { Result } from "../evidence/results.js";
import { type Reason, type ReasonCode, reason } from "../reasons.js";

/** Words about the bottle that nobody has read yet may say that it does not represent the fluid, or that something is wrong. */
export function checkWords(
  { sample, wordsNotUnderstood = [] }: Sample,
  parts: readonly DescribedPart[],
): Reason[] {
  return parts.flatMap((part) => {
    const texts = wordsNotUnderstood.filter(({ about }) => about === part).map(({ text }) => `"${text}"`);
    if (texts.length === 0) return [];
    const message =
      `the report of sample ${sample} says ${texts.join(" and ")} about ${SAY_PART[part]}, which is not understood; ` +
      'have a person read it, then correct the cell or say under "words" in the column map what it means';
    return [reason("words-not-understood", message)];
  });
}

const SAY_PART: Record<DescribedPart, string> = {
  colour: "the colour",
  appearance: "what is seen in the bottle",
  "sample point": "where it was drawn",
  flow: "whether fluid was flowing",
  "patch test": "the patch",
  "crackle test": "the crackle test",
  smell: "the smell",
};

interface Sign {
  readonly code: ReasonCode;
  /** Said of the sample. */
  readonly says: string;
  /** Later results that answer it. */
  readonly answeredBy: readonly Result[];
  /** What answers it where nobody measures those. */
  readonly orBy: Result;
}

type SightName = Exclude<Appearance, "clear" | "nothing-seen">;
type SignName = SightName | "free water on the patch" | "stain on the patch" | "crackle" | "smell";

/**
 * What each sign calls for, and the later result that answers it; clear fluid calls for nothing.
 *
 * A later look answers what is no result of a quantity. Free water and visible particles are: a number from before them is
 * not hidden by a bottle that only looks clear. A stain on the patch alone calls for a second sample.
 *
 * @source NAVEDTRA-14315
 */
const SIGNS: Record<SignName, Sign> = {
  "two-layers": {
    code: "two-layers-seen",
    says: "shows two layers: two fluids have met, or free water has settled",
    answeredBy: ["appearance"],
    orBy: "appearance",
  },
  "free-water": {
    code: "free-water-seen",
    says: "shows free water; drain it and exchange fluid",
    answeredBy: ["water"],
    orBy: "appearance",
  },
  "free water on the patch": {
    code: "free-water-seen",
    says: "shows free water on its patch; drain it and exchange fluid",
    answeredBy: ["water"],
    orBy: "patch",
  },
  crackle: {
    code: "free-water-seen",
    says: "crackles on the hot plate, which only free or emulsified water does; drain it and exchange fluid",
    answeredBy: ["water"],
    orBy: "crackle",
  },
  cloudy: {
    code: "cloudy-seen",
    says: "is cloudy; let it stand to tell air from water, and draw again",
    answeredBy: ["water", "appearance"],
    orBy: "appearance",
  },
  "particles-seen": {
    code: "particles-seen",
    says: "shows particles to the eye; counters do not count those, draw again",
    answeredBy: ["particles", "patch"],
    orBy: "appearance",
  },
  "fibres-seen": {
    code: "particles-seen",
    says: "shows fibres to the eye; counters do not count those, draw again",
    answeredBy: ["particles", "patch"],
    orBy: "appearance",
  },
  "stain on the patch": {
    code: "patch-stained",
    says: "leaves a stain on its patch; draw a second sample",
    answeredBy: ["patch"],
    orBy: "patch",
  },
  smell: {
    code: "smell-unusual",
    says: "smells unusual, as overheated or foreign fluid does; find out why, and draw again",
    answeredBy: ["smell"],
    orBy: "smell",
  },
};

function signsOf({ appearance = [], patchTest, crackle, smell }: Sample): SignName[] {
  return [
    ...appearance.filter((seen) => seen !== "clear" && seen !== "nothing-seen"),
    ...(patchTest?.freeWater ? (["free water on the patch"] as const) : []),
    ...(patchTest?.stained ? (["stain on the patch"] as const) : []),
    ...(crackle === "crackles" ? (["crackle"] as const) : []),
    ...(smell === "unusual" ? (["smell"] as const) : []),
  ];
}

/** What is seen, heard and smelt of the bottles, unless a later one answers it. */
export function checkLook({ lookedAt }: NonNullable<Requirement["sampling"]>, evidence: Evidence): Reason[] {
  const seenIn = evidence.of("appearance");
  if (seenIn.length === 0 && lookedAt !== undefined) {
    const numbers = evidence.newest.map(({ sample }) => sample).join(" and ");
    return [reason("appearance-not-reported", `nobody reported what sample ${numbers} looks like`)];
  }
  const words = [
    ...seenIn.flatMap((bottle) => checkWords(bottle, ["appearance"])),
    ...evidence.of("patch").flatMap((bottle) => checkWords(bottle, ["patch test"])),
    ...evidence.of("crackle").flatMap((bottle) => checkWords(bottle, ["crackle test"])),
    ...evidence.of("smell").flatMap((bottle) => checkWords(bottle, ["smell"])),
  ];
  const signs = evidence.looked.flatMap((bottle) =>
    signsOf(bottle).flatMap((name) => {
      const { code, says, answeredBy, orBy } = SIGNS[name];
      const isMeasured = answeredBy.some((result) => evidence.of(result).length > 0);
      const isAnswered = (isMeasured ? answeredBy : [orBy]).some((result) => {
        const later = evidence.of(result);
        return later.length > 0 && later.every((other) => isOlder(bottle, other));
      });
      return isAnswered ? [] : [reason(code, `sample ${bottle.sample} ${says}`)];
    }),
  );
  return [...words, ...signs];
}
