import * as z from "zod";
import { classes } from "./classes.js";
import { assumptions, cautions, day, sourceKey, verdictName, why } from "./fields.js";
import { goBy, plan } from "./plan.js";

const reached = z.object({ passes: z.number(), minutes: z.number() });
const bracketEnd = z.union([reached, z.object({ passes: z.null(), minutes: z.null() })]);

const perMl = z
  .array(z.object({ sizeUmC: z.number(), perMl: z.number() }))
  .describe("Particles larger than each size.");

const fluid = { perMl, classes };

const ruleOfThumb = z.object({
  rule: z.string().describe("The rule in words."),
  source: sourceKey,
  passes: z.number(),
  minutes: z.number(),
  modelLeaves: z
    .number()
    .describe("Part of the governing channel's particles that is left by the model, 0 to 1."),
  meaning: z.string(),
});

const firstOrder = z.union([
  z.object({
    kind: z.literal("estimate"),
    minutes: z.number().describe("Minutes of the plan itself."),
    standardUncertaintyMin: z.number(),
    minutes95: z.number().describe("Minutes that are enough in 95 % of the cases."),
    contributions: z
      .array(
        z.object({
          of: z.enum([
            "volume",
            "flow",
            "beta",
            "ingress",
            "slowZone",
            "hoses",
            "leakage",
            "laboratory",
            "counting",
          ]),
          minutes: z.number().describe("Standard uncertainty that it causes alone, in minutes."),
        }),
      )
      .describe("Largest first; those of 0 are left out."),
  }),
  z.object({ kind: z.literal("none"), why }),
]);

const confidence = z.object({
  seed: z.number().describe("Seed of the drawn cases."),
  draws: z.number().describe("Number of drawn cases."),
  minutesFor: z.array(
    z.object({ probability: z.number(), minutes: z.number().nullable(), passes: z.number().nullable() }),
  ),
  curve: z.array(z.object({ minutes: z.number(), probability: z.number() })),
  everReached: z.number().describe("Part of the cases in which the target is ever reached, 0 to 1."),
  firstOrder: firstOrder.describe("An estimate by hand, to compare with."),
  agreement: z
    .union([
      z.object({ kind: z.literal("agrees"), toleranceMin: z.number() }),
      z.object({ kind: z.literal("disagrees"), byMin: z.number(), toleranceMin: z.number() }),
      z.object({ kind: z.literal("no-comparison"), why }),
    ])
    .describe("Whether the two agree."),
});

const diagnosis = z
  .enum(["as-rated", "slower-than-rated", "levelling-off-above-target", "not-falling", "cannot-tell-yet"])
  .describe("What the samples support.");

const remaining = z
  .union([
    z.object({ kind: z.literal("minutes"), estimate: z.number(), low: z.number(), high: z.number() }),
    z.object({ kind: z.literal("at-least"), minutes: z.number() }),
    z.object({ kind: z.literal("not-reached"), floor: z.number().describe("Particles per mL that remain.") }),
  ])
  .meta({
    id: "RemainingTime",
    description: "Minutes from the last sample to the limit, with a 90 % interval.",
  });

const fitted = z
  .object({ low: z.number(), estimate: z.number().nullable(), high: z.number().nullable() })
  .meta({ id: "FittedValue", description: "Where the interval is open above there is no estimate." });

const interim = z.object({
  diagnosis,
  meaning: z.string(),
  slowerSoFar: z.boolean().describe("Whether it falls more slowly than rated so far."),
  governing: z.string(),
  remaining,
  channels: z.array(
    z.object({
      channel: z.string(),
      sizeUmC: z.number(),
      limit: z.number().describe("Most particles per mL."),
      ratedRate: z.number().describe("Rate per minute that the elements are rated for, as the port sees it."),
      diagnosis,
      remaining,
      ratePerMin: fitted,
      netRatePerMin: fitted,
      floorPerMl: fitted,
    }),
  ),
});

const next = z.union([
  z.object({ kind: z.literal("verify"), minutes: z.number(), interimMinutes: z.number().optional() }),
  z.object({ kind: z.literal("sample-again"), minutes: z.number() }),
  z.object({ kind: z.literal("stop"), why: z.string().describe("What to look for first.") }),
]);

const workLeft = z
  .union([
    z.object({ kind: z.literal("times"), value: z.number() }),
    z.object({ kind: z.literal("adds-nothing") }),
  ])
  .meta({ id: "WorkLeft", description: "How often something can still be done before the element is full." });

const loading = z.object({
  retainedBeforeG: z.number().describe("Dirt in the element before, in g."),
  addedG: z.number().describe("Dirt that this circulation adds, in g."),
  capacityG: z.number(),
  share: z.number().describe("Held afterwards, divided by the capacity."),
  circulationsLeft: workLeft,
  passesLeft: workLeft,
  assumptions,
});

const indicator = z.object({
  viscosityMm2PerS: z.number(),
  cleanDropBar: z.number().describe("Pressure drop of a clean element now, in bar."),
  meaning: z.enum(["cold-fluid-alone-explains-it", "element-is-loaded", "cannot-tell"]),
  roomUpToLpm: z
    .number()
    .describe("Largest flow that leaves the indicator room with a clean element, in L/min."),
  lookAgainAt: z
    .union([
      z.object({ kind: z.literal("temperature"), temperatureC: z.number() }),
      z.object({ kind: z.literal("never") }),
    ])
    .describe("Temperature from which an indication stands for the element."),
  assumptions,
});

const run = {
  heatKw: z.number().describe("Heat put into the fluid while the pump runs, in kW."),
  warmingCPerMin: z.number().describe("°C per minute while the pump runs; negative where cooling wins."),
  assumptions,
};

const heat = z.union([
  z.object({
    kind: z.literal("one-run"),
    endC: z.number().describe("Temperature at the end in °C."),
    ...run,
  }),
  z.object({
    kind: z.literal("runs-with-pauses"),
    firstRunMin: z.number(),
    runMin: z.number().describe("Length of every full run after the first, in minutes."),
    pauseMin: z.number(),
    pauses: z.number(),
    totalMin: z.number(),
    ...run,
  }),
  z.object({ kind: z.literal("refused"), why, ...run }),
]);

const flow = z.object({
  reynolds: z.number().describe("Reynolds number in the widest hose, with the coldest fluid."),
  boreMm: z.number(),
  temperatureC: z.number(),
  mm2PerS: z.number().describe("Viscosity in mm²/s."),
  kind: z.enum(["flushes", "may-flush", "washes", "laminar"]),
  toFlush: z
    .object({
      flowLpm: z.number().describe("Flow that would flush at this temperature, in L/min."),
      temperatureC: z.number().optional().describe("Temperature that would do at this flow, in °C."),
    })
    .optional()
    .describe("What would make the flow flush; absent where it does."),
  assumptions,
});

const step = z.object({
  step: z.string().describe("What to do."),
  caution: z.string().optional(),
  expected: z
    .array(z.object({ channel: z.string(), perMl: z.number() }))
    .optional()
    .describe("Particles to be expected at the sampling port."),
  source: sourceKey,
});

/** The answer of `circulate`, whatever it was asked with: what was not wanted or has no answer is null. */
export const circulation = {
  ...plan,
  port: z.enum(["upstream", "downstream"]).describe("Where the samples are drawn."),
  quoted: goBy.nullable(),
  whyNoTime: z.string().nullable().describe("Why there is no time to go by."),
  bracket: z
    .object({ plug: bracketEnd, wellMixed: bracketEnd, twoZone: bracketEnd.nullable() })
    .describe("The same by each way of mixing."),
  rulesOfThumb: z.array(ruleOfThumb),
  floor: z
    .union([
      z.object({
        risesAboveUmC: z
          .array(z.number())
          .describe("Sizes in µm(c) above which nothing takes particles out."),
        perMl: z.null(),
        classes: z.null(),
      }),
      z.object({ risesAboveUmC: z.null(), ...fluid }),
    ])
    .describe("Where the circuit ends when it circulates for ever."),
  confidence: confidence.nullable(),
  atEnd: z.object(fluid).nullable().describe("What to expect at the end."),
  rebound: z
    .array(
      z.object({
        channel: z.string(),
        port: z.number().describe("Particles per mL at the port."),
        circuit: z.number().describe("Particles per mL once slow parts of the circuit have mixed in."),
        factor: z.number(),
      }),
    )
    .nullable()
    .describe("What comes back after the pump is stopped."),
  after: z
    .object({ minutes: z.number(), passes: z.number(), ...fluid })
    .nullable()
    .describe("What to expect after the time that was asked for."),
  within: z
    .object({
      minutes: z.number(),
      flowLpm: z.number().nullable().describe("Flow that is needed, in L/min."),
    })
    .nullable(),
  remedies: z
    .object({
      withinMinutes: z.number(),
      beta: z.number().nullable().describe("Filtration ratio that would do."),
      betaFromUmC: z.number().describe("Size in µm(c) that it is needed at."),
      flowLpm: z.number().nullable().describe("Flow that would do, in L/min."),
      ingressFraction: z.number().nullable().describe("Part of today's ingress that would do, 0 to 1."),
    })
    .nullable()
    .describe("What would make it possible, each by itself."),
  interim: interim.nullable().describe("What the samples drawn while circulating say."),
  next: next.describe(
    "What to do next at the cart; minutes count from the sample at the start, and include those circulated since.",
  ),
  before: z
    .array(
      z.object({
        code: z.enum(["element-full", "element-fills", "warm-up", "too-cold-at-this-flow", "heat-refused"]),
        text: z.string().describe("What to do, and why."),
      }),
    )
    .describe("What comes before the minutes."),
  loading: loading.nullable().describe("How far the element is loaded."),
  indicator: indicator.nullable().describe("What the clogging indicator means now."),
  heat: heat.nullable().describe("How warm the fluid gets."),
  flow: flow.nullable().describe("How the fluid flows in the hoses."),
  steps: z.array(step).nullable().describe("What to do, in order."),
  assumptions,
  cautions,
};

/** What comes before the same for a circuit of a book or a carts file. */
const ofCart = {
  cart: z.string(),
  circuit: z.string(),
  verdict: verdictName,
  besides: z.array(z.string()).describe("What circulating does not settle."),
  from: z.object({ sample: z.string(), drawnOn: day }).nullable().describe("The sample it starts from."),
  sheet: z.string().nullable().describe("Where the sheet was written."),
};

export const circulationOfCart = z.object({ ...ofCart, ...circulation });

/** Where the circuit has nothing to circulate for, or no minutes. */
export const nothingToPlan = z.object({
  ...ofCart,
  quoted: z.null(),
  whyNoTime: z.string().describe("Why there is no time to go by."),
});
