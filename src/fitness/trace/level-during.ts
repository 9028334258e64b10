import type { Assumption } from "../../provenance/index.js";
import { type CircuitEvent, type Measured, mayFollow, mayPrecede, type Sample } from "../../samples/index.js";
import { latestSamples } from "../latest.js";
import type { Shown, SizeLevel } from "./shows.js";
import { inOrder } from "./spans.js";

/** The contaminants whose amount can be worked out. */
export type Contaminant = "particles" | "water" | "acid";

/** The most a circuit is taken to have held during a hookup. */
export interface LevelDuring {
  readonly water?: number;
  readonly acid?: number;
  readonly particles?: readonly SizeLevel[];
  /** What keeps the level from being known. */
  readonly missing: readonly string[];
  readonly assumptions: readonly Assumption[];
}

/**
 * The level of a circuit while it was connected: the highest that the samples around the hookup show.
 *
 * These are the last sample before it, the first after it, and all of its own day whose order is not known.
 *
 * @param events - of the circuit, for what may have lowered the level between the hookup and the sample after it
 */
export function levelDuring(
  hookup: CircuitEvent,
  contaminant: Contaminant,
  shown: readonly Shown[],
  events: readonly CircuitEvent[],
): LevelDuring {
  const reported = shown.filter(({ levels }) => levels[contaminant] !== undefined);
  const samples = reported.map(({ sample }) => sample);
  const before = latestSamples(samples.filter((sample) => !mayPrecede(hookup, sample)));
  const after = inOrder(samples.filter((sample) => !mayFollow(hookup, sample))).slice(0, 1);
  const sameDay = samples.filter((sample) => mayPrecede(hookup, sample) && mayFollow(hookup, sample));
  const around = inOrder([...before, ...sameDay, ...after]);
  if (around.length === 0)
    return { missing: [`no sample around it reports ${contaminant}`], assumptions: [] };
  const own = reported.filter(({ sample }) => around.includes(sample));
  const isOpen = sameDay.length === 0 && after.length === 0;
  return {
    ...highest(contaminant, own),
    missing: [
      ...withoutEnd(contaminant, own),
      ...reportedByOne(contaminant, own),
      ...(isOpen ? [`no sample that reports ${contaminant} was drawn since: it may have been higher`] : []),
      ...lowered(hookup, contaminant, after[0], events),
    ],
    assumptions: [
      {
        code: "level-of-samples-around",
        message:
          `${contaminant}: the circuit is taken to have held no more during the hookup than ${around.map(named).join(" or ")} shows; ` +
          "an exchange with a cleaner aircraft lowers it, so it may have held more for a while",
      },
    ],
  };
}

function named({ sample, drawnOn }: Sample): string {
  return `sample ${sample} of ${drawnOn}`;
}

/** The highest of the samples; a result without an upper end among them leaves none. */
function highest(contaminant: Contaminant, shown: readonly Shown[]): Partial<LevelDuring> {
  if (contaminant === "particles") return { particles: highestBySize(shown) };
  const results = shown.flatMap(({ levels }) => levels[contaminant] ?? []);
  if (results.some(isWithoutEnd)) return {};
  return { [contaminant]: Math.max(...results.map(({ value }) => value)) };
}

/** The same for each size that all of the samples report: of another size nobody knows the highest. */
function highestBySize(shown: readonly Shown[]): SizeLevel[] {
  const open = shown.flatMap(({ levels }) => levels.withoutUpperEnd ?? []);
  const [first, ...others] = shown.map(({ levels }) => levels.particles ?? []);
  return (first ?? []).flatMap((level) => {
    const same = others.flatMap((levels) => levels.find((one) => isOneSize(one, level)) ?? []);
    if (same.length < others.length || open.includes(level.sizeUm)) return [];
    return [{ ...level, perMl: Math.max(level.perMl, ...same.map(({ perMl }) => perMl)) }];
  });
}

function isOneSize(one: SizeLevel, other: SizeLevel): boolean {
  return one.sizeUm === other.sizeUm && one.toUm === other.toUm;
}

function isWithoutEnd({ limit }: Measured): boolean {
  return limit === "above" || limit === "at-least";
}

function withoutEnd(contaminant: Contaminant, shown: readonly Shown[]): string[] {
  return shown.flatMap(({ sample, levels }) => {
    const sizes = levels.withoutUpperEnd ?? [];
    const isOpen =
      contaminant === "particles"
        ? sizes.length > 0
        : levels[contaminant] && isWithoutEnd(levels[contaminant]);
    if (!isOpen) return [];
    const where = contaminant === "particles" ? ` at ${sizes.join(", ")} µm(c)` : "";
    return [`${named(sample)} gives ${contaminant}${where} only as "more than": the level has no upper end`];
  });
}

/** Sizes that not all of the samples report have no amount, and that has to be said. */
function reportedByOne(contaminant: Contaminant, shown: readonly Shown[]): string[] {
  if (contaminant !== "particles") return [];
  const known = highestBySize(shown);
  const all = shown.flatMap(({ levels }) => levels.particles ?? []);
  const left = all.filter((level) => !known.some((one) => isOneSize(one, level)));
  const sizes = new Set(
    left.map(({ sizeUm, toUm }) => (toUm === undefined ? `${sizeUm}` : `${sizeUm} to ${toUm}`)),
  );
  if (sizes.size === 0) return [];
  const names = shown.map(({ sample }) => named(sample)).join(" and ");
  return [
    `no amount of particles at ${[...sizes].join(", ")} µm(c) is given: ${names} do not both give a count there`,
  ];
}

/** What takes some of a contaminant out of a circuit. */
const LOWERS: Readonly<Record<Contaminant, readonly CircuitEvent["kind"][]>> = {
  particles: ["circulation", "element-change", "dehydration", "top-up", "fluid-change"],
  water: ["dehydration", "top-up", "fluid-change"],
  acid: ["top-up", "fluid-change"],
};

function lowered(
  hookup: CircuitEvent,
  contaminant: Contaminant,
  after: Sample | undefined,
  events: readonly CircuitEvent[],
): string[] {
  if (after === undefined) return [];
  return events
    .filter(({ kind, circulatedMinutes = 0 }) => {
      const isCirculated = contaminant === "particles" && circulatedMinutes > 0;
      return isCirculated || LOWERS[contaminant].includes(kind);
    })
    .filter((event) => event.on >= hookup.on && mayPrecede(event, after))
    .map(
      ({ kind, on }) =>
        `${kind.replace("-", " ")} of ${on}, before sample ${after.sample}, may have lowered ${contaminant}: it may have been higher`,
    );
}
