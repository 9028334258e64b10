import fc from "fast-check";

/** One row of a laboratory file, cell by cell as text. */
export interface WorldRow {
  readonly sample: string;
  readonly cart: string;
  readonly circuit: string;
  readonly drawnOn: string;
  /** Time of day, or nothing. */
  readonly drawnTime: string;
  readonly fluid: string;
  /** Per mL above 4, 6 and 14 µm(c). */
  readonly counts: readonly [string, string, string];
  readonly countedMl: string;
  readonly water: string;
  readonly acid: string;
  readonly viscosity: string;
  readonly chlorine: string;
  readonly calcium: string;
}

/** An event of a carts file. */
export interface WorldEvent {
  readonly on: string;
  readonly at?: string;
  readonly kind:
    | "fluid-change"
    | "top-up"
    | "element-change"
    | "opening"
    | "dehydration"
    | "hookup"
    | "circulation";
  readonly added?: string;
  readonly minutes?: number;
  readonly aircraftFound?: "clean" | "dirty";
  readonly circulatedMinutes?: number;
}

/** Carts, requirement and laboratory rows as people write them, of one day of judging. */
export interface World {
  readonly on: string;
  readonly carts: {
    readonly carts: readonly {
      readonly cart: string;
      readonly circuits: readonly (typeof CIRCUIT & {
        readonly circuit: string;
        readonly events: readonly WorldEvent[];
        readonly state?: { readonly on: string; readonly elementUsed: number };
      })[];
    }[];
  };
  readonly requirement: {
    readonly document: string;
    readonly revision: string;
    readonly systems: readonly WorldRequirement[];
  };
  readonly rows: readonly WorldRow[];
}

/** The limits of a world; what is optional is given in some worlds and not in others. */
export interface WorldRequirement {
  readonly system: string;
  readonly fluids: readonly string[];
  readonly cleanliness: readonly string[];
  readonly waterPpmMax: number;
  readonly acidMgKohPerGMax: number;
  readonly viscosity40Mm2PerS?: { readonly min: number; readonly max: number };
  readonly chlorinePpmMax?: number;
  readonly metalsPpmMax?: { readonly calcium: number };
  readonly sampleAgeDaysMax: number;
  readonly resultAgeDaysMax?: { readonly particles?: number; readonly acid?: number };
  readonly topUpShareMax?: number;
  readonly after?: readonly {
    readonly event: WorldEvent["kind"];
    readonly sample: boolean;
    readonly circulatedMinutesMin?: number;
  }[];
  readonly confidence?: object;
}

const CIRCUIT = {
  serves: "main",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: {
    position: "pressure",
    betas: [
      { sizeUmC: 4, beta: 20 },
      { sizeUmC: 6, beta: 100 },
      { sizeUmC: 14, beta: 1000 },
    ],
  },
} as const;

/** Volume of every circuit of a world in L. */
export const WORLD_VOLUME_L = 60;
/** ISO 4406 17/15/12 per mL above 4, 6 and 14 µm(c). */
export const WORLD_COUNT_LIMITS = [1300, 320, 40] as const;

const ON = "2026-03-14";
const day = (daysAgo: number) => new Date(Date.parse(ON) - daysAgo * 86_400_000).toISOString().slice(0, 10);

/** Mostly far inside, often at a limit, sometimes outside; as a share of the limit. */
const share = fc.oneof(
  { weight: 14, arbitrary: fc.constantFrom(0.1, 0.2, 0.3, 0.5) },
  { weight: 3, arbitrary: fc.constantFrom(0.9, 0.99, 1) },
  { weight: 1, arbitrary: fc.constantFrom(1.001, 1.2, 3) },
);

/** Mostly the first, now and then one of the others. */
const mostly = <T>(usual: fc.Arbitrary<T>, ...others: T[]) =>
  fc.oneof({ weight: 24, arbitrary: usual }, { weight: 1, arbitrary: fc.constantFrom(...others) });

/** A result against a limit, as a laboratory writes it, and now and then nothing, a limit value or no number. */
const cell = (limit: number) =>
  mostly(
    share.map((factor) => String(Number((limit * factor).toPrecision(6)))),
    "",
    `<${limit / 2}`,
    `<${limit * 2}`,
    `>${limit * 2}`,
    "N/A?",
  );

const counts = fc.tuple(share, share, share).chain((shares) => {
  let above = Number.POSITIVE_INFINITY;
  const [a, b, c] = WORLD_COUNT_LIMITS.map((limit, index) => {
    above = Math.min(above, Number((limit * (shares[index] as number)).toPrecision(6)));
    return String(above);
  }) as [string, string, string];
  return mostly<[string, string, string]>(
    fc.constant([a, b, c]),
    ["", "", ""],
    [a, b, ""],
    ["", b, c],
    [a, "12OO", c],
    [">100000", b, c],
  );
});

/** Days before that of judging about the oldest age of 30 days, the day itself, and the day after. */
const drawnAgo = fc.oneof(
  { weight: 8, arbitrary: fc.integer({ min: 1, max: 12 }) },
  { weight: 1, arbitrary: fc.constantFrom(-1, 0, 29, 30, 31, 60) },
);

const row = fc.record({
  fluid: mostly(fc.constant("MIL-PRF-83282"), "", "MIL-PRF-5606", "hydraulic oil"),
  drawnAgo,
  drawnTime: fc.constantFrom("", "", "09:00", "15:00"),
  counts,
  countedMl: fc.constantFrom("", "10", "25", "100", "0.05"),
  water: cell(200),
  acid: cell(0.2),
  viscosity: mostly(fc.constant("14"), "", "12", "11.9", "18"),
  chlorine: cell(100),
  calcium: cell(50),
});

const event = fc
  .record({
    kind: fc.constantFrom(
      "fluid-change" as const,
      "top-up" as const,
      "top-up" as const,
      "element-change" as const,
      "opening" as const,
      "dehydration" as const,
      "hookup" as const,
      "circulation" as const,
    ),
    ago: fc.integer({ min: -3, max: 16 }),
    at: fc.constantFrom(undefined, "08:00", "14:30"),
    aircraftFound: fc.constantFrom(undefined, "clean" as const, "dirty" as const),
    added: fc.constantFrom(undefined, "1 L", "3 L", "6 L", "6.5 L", "30 L"),
    circulatedMinutes: fc.constantFrom(undefined, 10, 30),
  })
  .map(
    ({ kind, ago, at, added, circulatedMinutes, aircraftFound }): WorldEvent => ({
      on: day(ago),
      ...(at !== undefined && { at }),
      kind,
      ...(kind === "circulation" && { minutes: 20 }),
      ...(kind === "hookup" && aircraftFound !== undefined && { aircraftFound }),
      ...(kind === "top-up" && added !== undefined && { added }),
      ...(circulatedMinutes !== undefined && { circulatedMinutes }),
    }),
  );

const after = fc.uniqueArray(
  fc.record(
    {
      event: fc.constantFrom(
        "fluid-change" as const,
        "top-up" as const,
        "element-change" as const,
        "opening" as const,
        "hookup" as const,
      ),
      sample: fc.boolean(),
      circulatedMinutesMin: fc.constant(30),
    },
    { requiredKeys: ["event", "sample"] },
  ),
  { maxLength: 3, selector: (entry) => entry.event },
);

const requirement: fc.Arbitrary<WorldRequirement> = fc
  .record(
    {
      viscosity40Mm2PerS: fc.constant({ min: 12, max: 16 }),
      chlorinePpmMax: fc.constant(100),
      metalsPpmMax: fc.constant({ calcium: 50 }),
      resultAgeDaysMax: fc.constantFrom({ acid: 60 }, { particles: 10, acid: 31 }),
      topUpShareMax: fc.constantFrom(0, 0.1, 0.25),
      after,
      confidence: fc.constantFrom(
        {},
        {
          water: { sd: 5 },
          acid: { sd: 0.005 },
          counts: { reproducibility: { kind: "relative", rsd: 0.1 } },
        },
      ),
    },
    { requiredKeys: [] },
  )
  .map((more) => ({
    system: "main",
    fluids: ["MIL-PRF-83282"],
    cleanliness: ["17/15/12"],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
    ...more,
  }));

const circuit = fc.record({
  events: fc.oneof(
    { weight: 2, arbitrary: fc.constant([]) },
    { weight: 3, arbitrary: fc.array(event, { minLength: 1, maxLength: 3 }) },
  ),
  elementUsed: mostly<number | undefined>(fc.constant(undefined), 0.8, 1, 1.4),
  rows: fc.array(row, { minLength: 1, maxLength: 3 }),
});

/** Worlds of one or two carts with one or two circuits each, their values about the limits and their days about one another. */
export const worlds: fc.Arbitrary<World> = fc
  .record({
    requirement,
    carts: fc.array(fc.array(circuit, { minLength: 1, maxLength: 2 }), { minLength: 1, maxLength: 2 }),
  })
  .map((drawn): World => {
    let number = 0;
    const rows: WorldRow[] = [];
    const carts = drawn.carts.map((circuits, cartIndex) => {
      const cart = ["QX-1", "MV-7"][cartIndex] as string;
      return {
        cart,
        circuits: circuits.map(({ events, elementUsed, rows: own }, index) => {
          const name = ["fore", "aft"][index] as string;
          for (const { drawnAgo: ago, ...cells } of own) {
            number += 1;
            rows.push({ sample: `S-${number}`, cart, circuit: name, drawnOn: day(ago), ...cells });
          }
          return {
            ...CIRCUIT,
            circuit: name,
            events,
            ...(elementUsed !== undefined && { state: { on: day(2), elementUsed } }),
          };
        }),
      };
    });
    return {
      on: ON,
      carts: { carts },
      requirement: { document: "limits", revision: "1", systems: [drawn.requirement] },
      rows,
    };
  });
