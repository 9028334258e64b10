import * as z from "zod";
import { CANNOT_TELL } from "../../online/index.js";
import { assumptions, day, verdictName } from "./fields.js";
import { plainIssue } from "./intake.js";

const minute = z
  .object({
    minute: z.number().describe("Whole minutes since 1970."),
    counts: z.array(z.object({ sizeUmC: z.number(), perMl: z.number() })).describe("Falling with size."),
    temperatureC: z.number().optional(),
    waterSaturation: z.number().optional().describe("Water as a part of saturation, 0 to 1."),
    flowLpm: z.number().optional(),
    pressureDropBar: z.number().optional(),
    isClass: z.boolean().optional().describe("All counts are the upper edges of a class."),
    readings: z.number().describe("Readings that it is the mean of."),
  })
  .meta({ id: "OnlineMinute", description: "The means of the readings of one minute." });

const remark = z
  .union([
    z.object({ code: z.literal("cold"), temperatureC: z.number() }),
    z.object({ code: z.literal("gap"), minutes: z.number() }),
    z.object({ code: z.enum(["air", "stuck", "counts-nothing", "no-flow", "no-counts"]) }),
    z.object({ code: z.enum(["no-temperature", "flow-not-reported", "classes-only"]) }),
    z.object({ code: z.literal("breaks-off"), sizeUmC: z.number() }),
    z.object({ code: z.literal("counts-break-a-rule"), message: z.string() }),
    z.object({ code: z.literal("not-counted"), channels: z.array(z.string()) }),
    z.object({ code: z.literal("risen"), channel: z.string() }),
    z.object({
      code: z.literal("flow-below-stated"),
      flowLpm: z.number(),
      statedLpm: z.number().describe("Flow that the circuit is stated to have, in L/min."),
    }),
  ])
  .meta({ id: "OnlineRemark", description: "What is to be known of a minute besides its counts." });

const answer = z.object({
  minute,
  state: z
    .enum(["clean", "inside-as-rated", "inside-where-counted", "not-yet", "risen", "cannot-tell"])
    .describe("What has been shown by this minute."),
  remarks: z.array(remark),
  channels: z.array(
    z.object({
      channel: z.string(),
      perMl: z.number().optional().describe("Particles per mL; absent before it was first counted."),
      limitPerMl: z.number(),
      aimPerMl: z.number().describe("Level that a counter with its bias has to show, per mL."),
      shown: z.number().describe("How much of the evidence that is needed there is; 1 and more is enough."),
    }),
  ),
});

const outlook = z.object({
  course: z
    .enum(["falling", "too-near", "slower-than-rated", "levelling-off", "not-falling"])
    .describe("Falling, as far as can be seen; otherwise look."),
  rated: z
    .object({
      channel: z.string(),
      ratePerMin: z.number().describe("How fast it falls, per minute."),
      ratedPerMin: z.number().describe("How fast the elements are rated to make it fall, per minute."),
    })
    .optional()
    .describe("The channel that shows it best, where the circuit is known."),
  remaining: z
    .union([
      z.object({
        kind: z.literal("minutes"),
        estimate: z.number(),
        low: z.number(),
        high: z.number(),
        channel: z.string(),
      }),
      z.object({ kind: z.literal("at-least"), minutes: z.number(), channel: z.string() }),
      z.object({
        kind: z.literal("not-reached"),
        floor: z.number().describe("Particles per mL that remain."),
        channel: z.string(),
      }),
    ])
    .describe("Minutes that the slowest channel still needs."),
});

const elementState = z
  .object({
    timesClean: z.number().describe("The drop as a multiple of that of the clean element."),
    timesCleanAtEnd: z.number().describe("The same when the indicator trips."),
    flowLpm: z.number(),
    mm2PerS: z.number().describe("Viscosity of the middle of the log in mm²/s."),
    runningHours: z.number().describe("Running hours of the log since the element was changed."),
  })
  .optional()
  .describe("What the log shows of the element.");

const element = z
  .union([
    z.object({
      kind: z.literal("hours"),
      hours: z.number().describe("Running hours until the indicator trips."),
      low: z.number().describe("Beginning of the band of 90 % and more."),
      high: z.number().optional().describe("End of the band; absent where it has none."),
      state: elementState,
      assumptions,
    }),
    z.object({ kind: z.literal("at-its-end"), state: elementState, assumptions }),
    z.object({
      kind: z.literal("cannot-tell"),
      code: z.enum(CANNOT_TELL),
      why: z.string(),
      state: elementState,
      assumptions,
    }),
  ])
  .meta({ id: "ElementLife", description: "How long an element lasts, or why that is not known." });

const particleLimit = z.object({
  channel: z.string(),
  fromUm: z.number().describe("Lower size in µm(c)."),
  toUm: z.number().optional().describe("Upper size in µm(c); absent where the limit holds for all above."),
  limit: z.number().describe("Particles allowed in `volumeMl`."),
  volumeMl: z.number().describe("Volume in mL that the limit stands for."),
});

/** The answers of `follow`: one of these for each line that it prints, settings first and the end last. */
export const onlineEvents = [
  z.object({
    kind: z.literal("settings"),
    target: z.string(),
    limits: z.array(particleLimit),
    confidence: z.number().describe("Confidence with which the circuit is called clean, 0 to 1."),
    countedMlPerMin: z.number().describe("Volume that the counter looks at, in mL per minute."),
    repeatability: z.number().describe("Relative scatter of the counter from minute to minute."),
    bias: z
      .number()
      .describe("Relative standard deviation of what it lastingly shows too much or too little."),
    port: z
      .enum(["upstream", "downstream"])
      .optional()
      .describe("Where the counter sits, where the circuit is known."),
    ofCart: z
      .object({
        cart: z.string(),
        circuit: z.string(),
        on: day,
        next: z.array(z.string()).describe("What to do by the samples so far, or why no minutes are known."),
        from: z
          .object({ sample: z.string(), drawnOn: day })
          .nullable()
          .describe("The sample it starts from."),
        minutes: z.number().nullable().describe("The time to go by, in minutes."),
        besides: z.array(z.string()).describe("What circulating does not settle."),
      })
      .optional()
      .describe("The circuit that the counter sits in, where one is named."),
    assumptions,
  }),
  z.object({
    kind: z.literal("log"),
    file: z.string(),
    readAs: z.string().describe("The kind of file, and how it was split into cells."),
    notUsed: z.array(z.string()).describe("Titles of columns that are not used."),
    assumptions,
  }),
  z.object({ kind: z.literal("row-set-aside"), issue: plainIssue }),
  z.object({ kind: z.literal("answer"), answer, outlook: outlook.optional() }),
  z.object({
    kind: z.literal("not-read"),
    line: z.number().describe("Number of the line, from 1 on."),
    expected: z.string(),
    found: z.string(),
  }),
  z.object({ kind: z.literal("clock-set-back"), minutes: z.number() }),
  z.object({
    kind: z.literal("end"),
    element: element
      .optional()
      .describe("How long the element lasts, where its clean drop and its indicator are stated."),
    withRun: z
      .object({
        verdict: verdictName,
        taken: z.boolean().describe("Whether the run takes part in the verdict."),
        why: z.string(),
      })
      .optional()
      .describe("The verdict with this run, where the requirement takes a counter in the line."),
    unused: z
      .object({
        repeated: z.number().describe("Lines that came again."),
        late: z.number().describe("Lines that came after their minute was over."),
        notRead: z.number().describe("Lines that could not be read."),
        setAside: z.number().optional().describe("Rows of a table that could not be read."),
      })
      .describe("How many lines changed nothing."),
  }),
] as const;
