import * as z from "zod";
import { ACTORS, QUANTITIES } from "../../fitness/index.js";
import { keptInput, override } from "./book.js";
import { classes } from "./classes.js";
import { cartTogether, circuitDecision, decisionsOfCircuit, rowsOfNoCart } from "./decisions.js";
import {
  assumptions,
  cautions,
  day,
  limitRange,
  namesOf,
  reasonCode,
  shownIn,
  sourceKey,
  verdictName,
  why,
} from "./fields.js";
import { issueOfRow, shape } from "./intake.js";
import { goBy, plan, waysToExchange } from "./plan.js";
import { measured, sample } from "./samples.js";
import { circuitTrends, crossing, outlook } from "./trends.js";

const reason = z
  .object({
    code: reasonCode,
    callsFor: verdictName.describe("The verdict that this reason alone calls for."),
    actor: z
      .enum(ACTORS)
      .optional()
      .describe("Who can do something about it; absent where nothing is to be done."),
    message: z.string(),
  })
  .meta({ id: "Reason", description: "One reason, with the numbers that led to it." });

const outcome = z
  .enum(["inside", "outside", "not-known", "not-measured"])
  .describe("How the result stands to its limits.");

const settlement = z.union([
  z.object({
    kind: z.literal("count-more"),
    countedMl: z.number().describe("Volume of sample to count in all, in mL."),
    replicates: z.number().describe("Counts of the volume counted so far, this one included."),
    bottles: z.number().describe("Bottles that hold so much."),
  }),
  z.object({
    kind: z.literal("state-volume"),
    countedMl: z.number().describe("Volume that must have been counted for the counts to be enough, in mL."),
  }),
  z.object({
    kind: z.literal("measure-again"),
    results: z.number().describe("Results to average, this one included."),
    where: z.enum(["same-laboratory", "different-laboratories"]),
  }),
  z.object({ kind: z.literal("circulate-on"), why: z.string() }),
  z.object({
    kind: z.literal("method-too-coarse"),
    standardUncertainty: z.number().describe("The largest one with which this result would be accepted."),
    results: z
      .number()
      .optional()
      .describe("Results of different laboratories to average, where that would do."),
  }),
  z.object({ kind: z.literal("cannot-be-settled"), why }),
]);

const conformance = z
  .object({
    probability: z.number().describe("Probability of conforming, 0 to 1; for particles no less than this."),
    required: z.number().describe("What the requirement asks for, 0 to 1."),
    consumerRisk: z.number().describe("Chance that it is outside although it is accepted, 0 to 1."),
    producerRisk: z.number().describe("Chance that it is inside although it is turned away, 0 to 1."),
    standardUncertainty: z.number().optional().describe("Of the result, in its unit; absent for particles."),
    acceptance: limitRange.optional().describe("Where a result would have to lie to be accepted."),
    settlement: settlement
      .optional()
      .describe("What would settle a result that is inside and not sure enough."),
  })
  .meta({ id: "Conformance", description: "How sure it is that a quantity conforms." });

const { particles: _particles, ...otherQuantities } = QUANTITIES;

const shownBy = { sample: z.string().optional().describe("Number of the sample."), drawnOn: day.optional() };

const assessed = z
  .union([
    z.object({
      ...shownBy,
      quantity: z.literal("particles"),
      outcome,
      channels: z.array(
        z.object({
          target: z.string(),
          channel: z.string(),
          limitPerMl: z.number(),
          outcome,
          perMl: z.number().optional().describe("Particles per mL, or the most there can be."),
          basis: z
            .enum(["own-ranges", "wider-channel", "limit-value", "class"])
            .optional()
            .describe("What the channel was decided by where it was not counted itself."),
          share: z.number().optional().describe("Count divided by limit; 1 is exactly at the limit."),
          probability: z.number().optional().describe("That the channel conforms, 0 to 1."),
        }),
      ),
      conformance: conformance.optional(),
    }),
    z.object({
      ...shownBy,
      quantity: z.enum(namesOf(otherQuantities)),
      unit: z.string(),
      outcome,
      limits: limitRange,
      measured: measured.optional(),
      distance: z.number().optional().describe("To the nearer limit, in the unit; negative beyond it."),
      conformance: conformance.optional(),
    }),
  ])
  .meta({ id: "Assessed", description: "One quantity of the requirement with its result and its limit." });

const next = z
  .object({
    action: verdictName,
    steps: z.array(z.object({ text: z.string(), source: sourceKey })).describe("What to do, in order."),
    exchange: z.array(
      z.object({
        quantity: z.enum(namesOf(QUANTITIES)),
        present: z.number().describe("In the unit of the quantity."),
        aim: z.number().describe("What the exchange is to reach, in the unit of the quantity."),
        fresh: z.number().describe("Value of the fresh fluid, in the unit of the quantity."),
        plan: z.object({ ...waysToExchange, assumptions }),
        lastsDays: z
          .number()
          .optional()
          .describe("Days until it is at its limit again, by the circuit's trend."),
        shownIn: shownIn.optional(),
        assumptions,
      }),
    ),
  })
  .meta({ id: "NextStep", description: "What to do now." });

const judgedCircuit = z
  .object({
    cart: z.string(),
    circuit: z.string(),
    serves: z.string(),
    verdict: verdictName.describe("As it was computed."),
    stands: verdictName.describe("What to go by: the verdict, or a person's stricter decision."),
    held: z.boolean().describe("Whether a person's decision holds the circuit."),
    ...decisionsOfCircuit,
    reasons: z.array(reason).describe("What decides first."),
    target: z.array(z.string()).nullable().describe("Cleanliness targets of the requirement."),
    sample: sample.nullable().describe("The sample that was judged."),
    otherSamples: z.array(sample).describe("Further samples that show what this one does not."),
    classes: classes.nullable(),
    circulation: z
      .object({ ...plan, quoted: goBy.nullable() })
      .nullable()
      .describe("The plan, where circulating can help."),
    assessed: z.array(assessed),
    together: conformance.nullable().describe("All quantities together."),
    next,
    changes: z
      .array(z.object({ verdict: verdictName, when: z.string() }))
      .describe("What would change the verdict, and to what."),
    outlook: outlook.nullable(),
    limitsFrom: z
      .array(z.object({ field: z.string(), source: sourceKey, says: z.string() }))
      .describe("Where limits of the requirement come from."),
    before: z
      .object({ on: day, verdict: verdictName })
      .nullable()
      .describe("The verdict in the book that it is compared with."),
    overrides: z.array(override),
    record: z
      .object({
        number: z.number().describe("Number of the verdict in the book."),
        resultSha256: z.string(),
        inputs: z.array(keptInput),
      })
      .nullable()
      .describe("The verdict as the book keeps it; null without a book."),
    trends: circuitTrends,
    assumptions,
  })
  .meta({ id: "JudgedCircuit", description: "One circuit with its verdict and all that led to it." });

const requirement = { document: z.string(), revision: z.string() };

/** The answer of `judge`. */
export const judgement = {
  on: day,
  asOf: day.nullable(),
  requirement: z.object({ ...requirement, note: z.string().nullable() }),
  circuits: z.array(judgedCircuit),
  head: z.string().nullable().describe("Hash of the last entry of the book; null without one."),
  notKept: z.string().nullable().describe("Why the verdicts are not in the book, where they are not."),
  carts: z.array(cartTogether),
  heldElsewhere: z.array(circuitDecision),
  rowsOfNoCart,
  files: z
    .array(
      z.object({
        file: z.string(),
        shape,
        rows: z.number(),
        samples: z.number(),
        quarantined: z.number(),
        unusedColumns: z.array(z.string()),
      }),
    )
    .describe("Laboratory files that were read; none with a book."),
  repeatedSamples: z.number().describe("How many samples were in several files."),
  quarantine: z.array(issueOfRow),
  assumptions,
  cautions,
};

/** The answer of `fleet`. */
export const fleet = {
  on: day,
  asOf: day.nullable(),
  requirement: z.object(requirement),
  circuits: z
    .array(
      z.object({
        cart: z.string(),
        circuit: z.string(),
        serves: z.string(),
        verdict: verdictName.describe("As it was computed."),
        stands: verdictName.describe("What to go by: the verdict, or a person's stricter decision."),
        held: z.boolean().describe("Whether a person's decision holds the circuit."),
        ...decisionsOfCircuit,
        because: z.array(z.string()).describe("Who holds it, and the messages of the reasons that decide."),
        crossings: z.array(crossing).describe("Limits expected to be crossed before the next sample."),
        nextSampleBy: day.nullable(),
        daysToSample: z.number().nullable().describe("Days until then; negative once it is over."),
        elementUsed: z.number().nullable().describe("Part of the element's capacity that is used."),
        elementNearCapacity: z.boolean().describe("Whether the element should be changed before long."),
        before: verdictName.nullable().describe("The verdict that it is compared with."),
        beforeOn: day.nullable().describe("The day of that verdict."),
        changed: z.boolean().describe("Whether it has changed since."),
      }),
    )
    .describe("What needs doing first at the top."),
  carts: z.array(cartTogether),
  heldElsewhere: z.array(circuitDecision),
  rowsInQuarantine: z.number(),
  rowsOfNoCart,
  assumptions,
  cautions,
};

/** The answer of `fleet --shard`. */
export const shard = {
  shard: z.number().describe("Which part of the fleet, from 1."),
  of: z.number().describe("How many parts there are."),
  out: z.string().describe("The file that was written."),
  on: day,
  carts: z.number().describe("How many carts are in it."),
};
