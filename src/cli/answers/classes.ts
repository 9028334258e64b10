import * as z from "zod";
import { assumptions, interval } from "./fields.js";

const standing = z
  .enum(["confirmed", "one-document", "single", "computed", "practice", "memory"])
  .describe("How well the table is confirmed in print.");

const CLASSES = [
  ...["000", "00", "0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12", "beyond 12"],
] as const;
const SIZE_CODES = ["A", "B", "C", "D", "E", "F"] as const;
const SIZE_RANGES = ["6-14", "14-21", "21-38", "38-70", ">70"] as const;
const NAVY_CLASSES = ["0", "1", "2", "3", "4", "5", "6", "beyond 6"] as const;
const NAVY_RANGES = ["5-10", "10-25", "25-50", "50-100", ">100"] as const;
const GOST_CLASSES = ["00", "0", "1", "2", "3", "4", "5", "6", "7", "8", "beyond 8"] as const;
const GOST_RANGES = ["5-10", "10-25", "25-50", "50-100"] as const;

/** One channel with its class, its count and the limit that it is held against. */
function channel<C extends z.ZodType, N extends z.ZodType>(name: C, className: N) {
  return z.object({
    channel: name,
    class: className,
    count: z.number().describe("Particles as reported, in `countVolumeMl`."),
    basis: z
      .enum(["measured", "converted", "estimated"])
      .describe("Whether it was measured here, converted from another size scale or estimated."),
    limit: z.number().describe("Upper limit of the class, in the volume of the table."),
    moreThan: z.number().nullable().describe("Upper limit of the next cleaner class; null for the cleanest."),
    share: z.number().describe("Count divided by limit, both per mL."),
    margin: z
      .number()
      .describe(
        "Particles left before the next class begins, in the volume of the counts; below 0 beyond the table.",
      ),
  });
}

function classOfTable<const C extends readonly string[], const N extends readonly string[]>(
  channels: C,
  classes: N,
) {
  const [name, className] = [z.enum(channels), z.enum(classes)];
  return {
    class: className,
    governing: name,
    missing: z.array(name).describe("Channels that could not be formed from the given sizes."),
    table: z.string().describe("Which table, with its edition."),
    standing,
    countVolumeMl: z.number().describe("Volume in mL that the counts stand for."),
    limitVolumeMl: z.number().describe("Volume in mL that the limits of the table stand for."),
    channels: z.array(channel(name, className)),
  };
}

const BY_SIZE = "The class of each size that was counted.";
const BY_RANGE = "The class of each size range that was counted.";

const byRange = z
  .object({
    ...classOfTable(SIZE_RANGES, CLASSES),
    byRange: z.record(z.string(), z.enum(CLASSES)).describe(BY_RANGE),
  })
  .meta({ id: "ClassByRange", description: "The class by a table of size ranges." });

const bySize = z
  .object({
    ...classOfTable(SIZE_CODES, CLASSES),
    bySize: z.record(z.string(), z.enum(CLASSES)).describe(BY_SIZE),
  })
  .meta({ id: "ClassBySize", description: "The class by a table of cumulative sizes." });

const code = {
  code: z.string().describe('The code, such as "17/15/12".'),
  bySize: z.record(z.string(), z.string()),
};

const core = {
  as4059: z.object({ cumulative: bySize.nullable(), differential: byRange.nullable() }),
  nas1638: byRange.nullable(),
};

export const classes = z
  .object({ iso4406: z.object(code).nullable(), ...core })
  .meta({ id: "Classes", description: "The classes; a standard that the sizes cannot serve is null." });

const chance = {
  atLeast: z.number(),
  atMost: z.number().describe("Upper end of the probability, 0 to 1."),
};

const jointProbability = z
  .object({
    ...chance,
    ifLaboratoryErrsAlike: z
      .object(chance)
      .describe("The narrower range that holds if the laboratory errs by one factor in all channels."),
  })
  .meta({
    id: "JointProbability",
    description: "How sure something is that concerns several channels at once.",
  });

const channelCertainty = z
  .union([
    z.object({
      channel: z.string(),
      kind: z.literal("known"),
      raw: z.number().describe("Particles that were counted."),
      rawInterval: interval.describe("Exact 95 % interval of the raw particles, from counting alone."),
      classes: z
        .array(z.object({ class: z.string(), probability: z.number() }))
        .describe("Every class with its probability; they sum to 1."),
    }),
    z.object({ channel: z.string(), kind: z.literal("cannot-tell"), why: z.string() }),
  ])
  .meta({ id: "ChannelCertainty", description: "How sure the class of one channel is." });

const likelyClasses = z
  .object({
    channels: z.array(channelCertainty),
    noDirtierThan: z
      .array(z.object({ class: z.string(), ...chance }))
      .describe(
        "For each class, how sure it is that no channel is dirtier; empty where a channel is not known.",
      ),
  })
  .meta({ id: "LikelyClasses", description: "The probable classes of each channel." });

const certainty = z.object({
  reproducibility: z
    .union([
      z.object({ kind: z.literal("relative"), rsd: z.number().describe("Relative standard deviation.") }),
      z.object({ kind: z.literal("codes"), sd: z.number().describe("Standard deviation in codes.") }),
    ])
    .nullable()
    .describe("Scatter of counter and laboratory."),
  iso4406: z.object({ channels: z.array(channelCertainty), code: jointProbability.nullable() }).nullable(),
  as4059: z.object({ cumulative: likelyClasses.nullable(), differential: likelyClasses.nullable() }),
  nas1638: likelyClasses.nullable(),
});

const target = z.object({
  target: z.string().describe("The target in the usual notation."),
  outcome: z.enum(["inside", "outside", "not-known"]),
  channels: z.array(
    z.object({
      channel: z.string(),
      outcome: z.enum(["inside", "outside", "not-measured"]),
      count: z.number().nullable().describe("Particles as reported; null where they were not counted."),
      limit: z.number().describe("Most particles in `limitVolumeMl`."),
      limitVolumeMl: z.number(),
      share: z.number().nullable().describe("Count divided by limit, both per mL."),
      probability: z.number().nullable().describe("That the channel is within its limit, 0 to 1."),
    }),
  ),
  probability: jointProbability.nullable(),
});

const newFluid = z.object({
  specification: z.string().describe("The specification of the new fluid."),
  outcome: z.enum(["inside", "outside", "not-known"]),
  standing,
  doubt: z.string().nullable().describe("What of the printed limit is in doubt."),
  byRange: z
    .record(z.string(), z.enum(["inside", "outside", "not-measured"]))
    .describe("The outcome of each range."),
});

const unserved = z.object({
  standard: z.string(),
  needsUm: z.array(z.number()).describe("Sizes that are needed, in µm on the scale of the counts."),
  needs: z.enum(["one", "all", "two neighbours", "two neighbours or the last"]).describe("How many of them."),
});

const usable = z.boolean().describe("Whether the sample can be used with such a bottle.");

const shares = z
  .array(z.object({ sizeUm: z.number(), share: z.number() }))
  .describe("Count of the blank divided by that of the sample, by size.");

/** The answer of `classify`. */
export const classified = z.object({
  iso4406: z.object({ ...code, channels: z.array(channel(z.enum(["4", "6", "14"]), z.string())) }).nullable(),
  ...core,
  navy: z
    .object({
      ...classOfTable(NAVY_RANGES, NAVY_CLASSES),
      byRange: z.record(z.string(), z.enum(NAVY_CLASSES)).describe(BY_RANGE),
    })
    .nullable()
    .describe("Class of the aviation hydraulics manual."),
  gost17216: z
    .object({
      ...classOfTable(GOST_RANGES, GOST_CLASSES),
      byRange: z.record(z.string(), z.enum(GOST_CLASSES)).describe(BY_RANGE),
    })
    .nullable(),
  milStd1246: z
    .object({
      level: z.number().describe("The cleanliness level."),
      bySize: z.record(z.string(), z.number()).describe("The level of each size."),
      governing: z.string(),
      standing: z.literal("confirmed"),
    })
    .nullable(),
  newFluid: z.array(newFluid).describe("Compared with limits for new fluid, which do not apply in service."),
  unserved: z.array(unserved).describe("Standards that the counted sizes cannot serve."),
  certainty: certainty.nullable().describe("How sure the classes are, where the counted volume is given."),
  target: target.nullable().describe("Whether the target is met, where one is given."),
  blank: z.object({ usable, shares }).nullable().describe("The bottle blank, where one is given."),
  assumptions,
});

/** The same where the bottle blank makes the sample unusable: no class is made from it. */
export const unusable = z.object({
  iso4406: z.null(),
  as4059: z.object({ cumulative: z.null(), differential: z.null() }),
  nas1638: z.null(),
  navy: z.null(),
  gost17216: z.null(),
  milStd1246: z.null(),
  newFluid: z.array(z.never()),
  unserved: z.array(z.never()),
  certainty: z.null(),
  target: z.null(),
  blank: z.object({ usable, shares: shares.optional(), why: z.string().describe("Why it is unusable.") }),
  assumptions,
});
