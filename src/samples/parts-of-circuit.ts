import * as z from "zod";
import { betasOfRating, RATING_EXAMPLES, unknownElement } from "../cleanliness/index.js";
import type { Assumption } from "../provenance/index.js";
import { type QuantityKind, tryParseStatedQuantity } from "../units/index.js";
import { readClock } from "./clock.js";
import { expecting } from "./describe-problem.js";
import { isReadable, READABLE_CHARACTERS } from "./names/readable.js";
import { clockSchema, daySchema } from "./sample.js";

/** The name of a cart, a circuit or a system. */
export const nameSchema = z.string().min(1).refine(isReadable, expecting(READABLE_CHARACTERS));

/** A quantity as a carts file states it, in the kept unit and as it was typed. */
export interface StatedQuantity {
  readonly value: number;
  readonly text: string;
  readonly assumptions: readonly Assumption[];
}

/** A quantity written with its unit, such as "60 L" or "16 gal". */
export function quantity(kind: QuantityKind, isAllowed = (value: number) => value > 0) {
  return z.string().transform((text, context): StatedQuantity => {
    const reading = tryParseStatedQuantity(text, kind);
    if (reading.kind !== "refused" && isAllowed(reading.value)) {
      return { value: reading.value, text, assumptions: assumedIn(reading) };
    }
    const expected = reading.kind === "refused" ? reading.expected : "a value above 0";
    context.addIssue({ code: "custom", message: `expected ${expected}, found "${text}"` });
    return z.NEVER;
  });
}

function assumedIn(reading: { readonly kind: string; readonly assumption?: Assumption }): Assumption[] {
  return reading.assumption === undefined ? [] : [reading.assumption];
}

/** What reading something rests on; nothing is added where it rests on nothing. */
export function withAssumptions<T extends object>(
  value: T,
  assumptions: readonly Assumption[],
): T & { readonly assumptions?: readonly Assumption[] } {
  return assumptions.length === 0 ? value : { ...value, assumptions };
}

/** Filtration ratio βx(c) at one size. */
export const ratedBetaSchema = z.strictObject({
  sizeUmC: z.number().positive(),
  beta: z.number().min(1),
});

/**
 * A filter element in the self-circulation path, with its filtration ratios after ISO 16889. Without them they are taken
 * from the words it is rated by, and without those from what any element in working order does; its assumptions say so.
 */
export const filterElementSchema = z
  .strictObject({
    position: z.string().min(1),
    betas: z.array(ratedBetaSchema).min(1).optional(),
    /** The words that it is sold by, such as "3 µm absolute"; looked at where no ratios are stated. */
    rating: z.string().optional(),
  })
  .transform(({ betas, rating, position }, context) => {
    if (betas !== undefined) return { position, betas };
    if (rating === undefined) return { position, ...unknownElement(position) };
    const rated = betasOfRating(position, rating);
    if (rated !== undefined) return withAssumptions({ position, betas: rated.betas }, rated.assumptions);
    context.addIssue({
      code: "custom",
      path: ["rating"],
      message: `expected a rating such as ${RATING_EXAMPLES}, found "${rating}"`,
    });
    return z.NEVER;
  });

/**
 * What can happen to a circuit. A hookup is one to an aircraft; an opening is one of a line, hose, pump or reservoir; a
 * circulation is the circuit's own, through its element.
 */
export const EVENT_KINDS = [
  "fluid-change",
  "top-up",
  "element-change",
  "opening",
  "dehydration",
  "hookup",
  "circulation",
] as const;

/** What the log of a hookup says of the aircraft. */
const HOOKUP_FIELDS = ["aircraft", "system", "aircraftFound", "serviced"] as const;

/** Something that happened to a circuit, as its log has it. */
export const circuitEventSchema = z
  .strictObject({
    on: daySchema,
    /** Time of day at which it began, with its zone where one is known; "8:40" is read as 08:40. */
    at: z
      .string()
      .overwrite((text) => readClock(text.trim()) ?? text)
      .pipe(clockSchema)
      .optional(),
    /** Number of a sample that was drawn after it on the same day, where the times are not known. */
    beforeSample: z.string().min(1).optional(),
    kind: z.enum(EVENT_KINDS),
    /** How long the circuit was circulated, or connected to the aircraft. */
    minutes: z.number().nonnegative().optional(),
    /** Flow of a circulation, for example "20 L/min"; that of the circuit when absent. */
    flow: quantity("flow").optional(),
    /** Reading of the hour-meter when it began, in hours. */
    hourMeterH: z.number().nonnegative().optional(),
    fluidTemperatureC: z.number().optional(),
    /** Minutes of self-circulation since, as the technician wrote them down. */
    circulatedMinutes: z.number().nonnegative().optional(),
    /** New fluid that was added with it, for example "12 L"; with it generation can be separated from dilution. */
    added: quantity("volume").optional(),
    /** The register of the aircraft. */
    aircraft: nameSchema.optional(),
    /** The system of the aircraft that was connected. */
    system: nameSchema.optional(),
    /** What its fluid was found to be; after a dirty aircraft the circuit needs a new sample. */
    aircraftFound: z.enum(["clean", "dirty"]).optional(),
    /** Fluid that went into the aircraft, for example "3 L". */
    serviced: quantity("volume", (value) => value >= 0).optional(),
    note: z.string().optional(),
  })
  .superRefine((event, context) => {
    const { kind, minutes, flow } = event;
    for (const field of HOOKUP_FIELDS) {
      if (kind === "hookup" || event[field] === undefined) continue;
      context.addIssue({
        code: "custom",
        path: [field],
        message: `expected with a hookup only, found with ${kind}`,
      });
    }
    if (kind !== "circulation" && flow !== undefined) {
      context.addIssue({
        code: "custom",
        path: ["flow"],
        message: `expected with a circulation only, found with ${kind}`,
      });
    }
    if (kind !== "circulation" || minutes !== undefined) return;
    context.addIssue({
      code: "custom",
      path: ["minutes"],
      ...expecting("the minutes circulated, such as 30"),
    });
  })
  .transform(({ added, serviced, flow, ...event }) =>
    withAssumptions(
      {
        ...event,
        ...(flow !== undefined && { flowLpm: flow.value }),
        ...(added !== undefined && { addedL: added.value }),
        ...(serviced !== undefined && { servicedL: serviced.value }),
      },
      [flow, added, serviced].flatMap((quantity) => quantity?.assumptions ?? []),
    ),
  );

/** An indicator trips at 1; twice that is no reading, and 85 was meant as per cent. */
const MAX_ELEMENT_USED = 2;

/** What a technician found on the cart. What was not looked at is left out. */
export const cartStateSchema = z.strictObject({
  on: daySchema,
  /** Clogging indicator with warm fluid: "persistent" when it stays out or comes back at once. */
  indicator: z.enum(["clear", "persistent"]).optional(),
  level: z.enum(["normal", "alarm"]).optional(),
  temperature: z.enum(["normal", "tripped"]).optional(),
  seals: z.enum(["sound", "damaged"]).optional(),
  /** Share of the element's permissible pressure drop that is used with warm fluid, as a fraction; 1 is all of it. */
  elementUsed: z
    .number()
    .nonnegative()
    .refine(
      (used) => !(used > MAX_ELEMENT_USED),
      expecting(`a fraction such as 0.8 for 80 %; a number above ${MAX_ELEMENT_USED} is taken for per cent`),
    )
    .optional(),
  note: z.string().optional(),
});

/** Particles larger than a size that enter a whole circuit per minute. */
export const ingressSchema = z.strictObject({
  sizeUmC: z.number().positive(),
  particlesPerMin: z.number().nonnegative(),
});

/** How a circuit gives fluid to an aircraft while it is connected. */
export const deliverySchema = z
  .strictObject({
    /** The most flow to the aircraft, for example "80 L/min". */
    flow: quantity("flow").optional(),
    /** False for a path that fills the aircraft's reservoir: it delivers and does not return. */
    returns: z.boolean().optional(),
    /** A filter element that everything passes on its way to the aircraft. */
    element: filterElementSchema.optional(),
  })
  .refine(
    (delivery) => Object.keys(delivery).length > 0,
    "says nothing: expected flow, returns or an element",
  )
  .transform(({ flow, ...delivery }) =>
    withAssumptions(
      { ...delivery, ...(flow !== undefined && { flowLpm: flow.value }) },
      flow?.assumptions ?? [],
    ),
  );

/** See {@link cartStateSchema}. */
export type CartState = z.infer<typeof cartStateSchema>;
/** See {@link circuitEventSchema}. */
export type CircuitEvent = z.infer<typeof circuitEventSchema>;
/** See {@link filterElementSchema}. */
export type FilterElement = z.infer<typeof filterElementSchema>;
/** See {@link ratedBetaSchema}. */
export type RatedBeta = z.infer<typeof ratedBetaSchema>;
/** See {@link ingressSchema}. */
export type Ingress = z.infer<typeof ingressSchema>;
