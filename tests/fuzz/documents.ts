/** Documents in which every field that a person can write stands, for edits to be made to. Invented. */

/** A carts file. */
export const CARTS = {
  carts: [
    {
      cart: "C-1",
      note: "spare",
      circuits: [
        {
          circuit: "fore",
          serves: "main system",
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
          ingress: [
            { sizeUmC: 4, particlesPerMin: 1e6 },
            { sizeUmC: 14, particlesPerMin: 1e4 },
          ],
          events: [
            { on: "2026-02-01", kind: "top-up", added: "12 L", note: "new can" },
            { on: "2026-02-20", kind: "element-change", circulatedMinutes: 30 },
            { on: "2026-03-01", kind: "hookup" },
            {
              ...{ on: "2026-03-05", at: "14:05", kind: "hookup", aircraft: "X-17", system: "main system" },
              ...{
                minutes: 25,
                hourMeterH: 12.5,
                fluidTemperatureC: 41,
                serviced: "3 L",
                aircraftFound: "clean",
              },
            },
          ],
          delivery: {
            flow: "80 L/min",
            returns: true,
            element: { position: "delivery", betas: [{ sizeUmC: 6, beta: 100 }] },
          },
          state: {
            on: "2026-03-12",
            indicator: "clear",
            level: "normal",
            temperature: "normal",
            seals: "sound",
            elementUsed: 0.3,
            note: "",
          },
          drained: 0.8,
        },
        {
          circuit: "aft",
          serves: "second system",
          fluid: "AS1241 Type IV",
          volume: "16 US gal",
          flow: "12 US gpm",
          element: { position: "return", betas: [{ sizeUmC: 14, beta: 1000 }] },
        },
      ],
    },
  ],
};

/** A requirements file. */
export const REQUIREMENTS = {
  document: "example limits",
  revision: "3",
  note: "illustrative",
  sources: ["PRACTICE"],
  systems: [
    {
      system: "main system",
      aircraft: "fleet",
      volumeL: 90,
      fluids: ["MIL-PRF-83282", "MIL-PRF-87257"],
      cleanliness: ["17/15/12", "AS4059 cumulative 7A-F", "NAS 1638 7"],
      waterPpmMax: 200,
      waterSaturation: {
        shareMax: 0.8,
        lowestTemperatureC: 5,
        measured: [
          { temperatureC: 5, waterPpm: 127.3 },
          { temperatureC: 60, waterPpm: 640 },
        ],
      },
      acidMgKohPerGMax: 0.2,
      viscosity40Mm2PerS: { min: 12, max: 16 },
      chlorinePpmMax: 200,
      metalsPpmMax: { iron: 20, calcium: 50 },
      sampleAgeDaysMax: 30,
      sampleEveryDays: 20,
      identity: {
        viscosity40Mm2PerS: { min: 11 },
        density15KgPerM3: { min: 830, max: 870 },
        colours: ["red"],
      },
      sampling: {
        labelled: true,
        points: ["main-flow-line"],
        flowing: true,
        countedMlMin: 20,
        replicatesMin: 2,
      },
      after: [{ event: "element-change", sample: true, circulatedMinutesMin: 10 }],
      cartState: { ageDaysMax: 3 },
      confidence: {
        probability: 0.95,
        counts: { reproducibility: { kind: "relative", rsd: 0.1 } },
        water: { sd: 10 },
        acid: { rsd: 0.05 },
      },
      freshFluid: { waterPpm: 50, acidMgKohPerG: 0.05 },
      from: { waterPpmMax: "PRACTICE" },
    },
    {
      system: "second system",
      fluids: ["AS1241 Type IV"],
      cleanliness: ["AS4059 differential 7"],
      waterPpmMax: 8000,
      acidMgKohPerGMax: 1.5,
      sampleAgeDaysMax: 45,
    },
  ],
};

const COUNTS = {
  scale: "um(c)",
  form: "cumulative",
  volumeMl: 1,
  counting: { countedMl: 25, dilution: 2 },
  counts: [
    { sizeUm: 4, count: 15000, blank: 3 },
    { sizeUm: 6, count: 1200, basis: "measured" },
    { sizeUm: 14, count: 75 },
  ],
};

/** Samples of the circuit "fore" of the cart "C-1", the newest first. */
export const SAMPLES = ["2026-03-04", "2026-02-11", "2026-01-20", "2026-01-02"].map((drawnOn, index) => ({
  sample: `S-${index}`,
  cart: "C-1",
  circuit: "fore",
  drawnOn,
  drawnTime: "09:30",
  receivedOn: drawnOn,
  fluid: "MIL-PRF-83282",
  counts: COUNTS,
  ...(index === 0 && {
    replicates: [COUNTS, COUNTS],
    blank: { ...COUNTS, counts: [{ sizeUm: 4, count: 10 }] },
    limitedCounts: [{ sizeUm: 21, volumeMl: 1, count: 5, limit: "below" }],
    otherScaleCounts: [{ scale: "um-older", fromUm: 5, toUm: 15, volumeMl: 100, count: 400 }],
    wordedResults: [{ measurand: "water", said: "trace" }],
    reportedClasses: [{ standard: "ISO 4406", class: "21/17/13" }],
    fluidTemperatureC: 40,
    density15KgPerM3: { value: 850 },
    chlorinePpm: { value: 50, limit: "below" },
    metalsPpm: { iron: { value: 3 } },
    samplePoint: "main-flow-line",
    flowing: true,
    appearance: ["clear"],
    colour: "red",
  }),
  waterPpm: { value: 150 - 10 * index },
  acidMgKohPerG: { value: 0.15 - 0.01 * index },
  viscosity40Mm2PerS: { value: 14 },
  origin: [{ file: "a.csv", rows: [2 + index] }],
}));

/** A column map. */
export const COLUMN_MAP = {
  siltbookColumnMap: 1,
  name: "harbour laboratory",
  shape: "wide",
  decimal: ".",
  dates: "year-month-day",
  zone: "+02:00",
  blanks: ["N/A"],
  counts: { scale: "um(c)", volumeMl: 1 },
  fixed: { fluid: "MIL-PRF-83282" },
  columns: {
    sample: { holds: "sample" },
    cart: { holds: "cart" },
    circuit: { holds: "circuit" },
    "drawn on": { holds: "drawn" },
    "4 µm(c) per mL": { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1 },
    "6-14 µm ISO 4402 per 100 mL": { holds: "count", fromUm: 6, toUm: 14, scale: "um-older", volumeMl: 100 },
    "water (mg/kg)": { holds: "water", unit: "mg/kg" },
    "ISO 4406 code": { holds: "class", standard: "ISO 4406" },
  },
};

/** A laboratory file that {@link COLUMN_MAP} reads. */
export const LAB_TEXT = [
  "sample,cart,circuit,drawn on,4 µm(c) per mL,6-14 µm ISO 4402 per 100 mL,water (mg/kg),ISO 4406 code,acid number (mg KOH/g),Fe (ppm),chlorine (mg/kg)",
  "S-1,C-1,fore,2026-03-04,1300,N/A,120,17/15/12,0.1,3,<40",
  "S-2,C-1,aft,2026-03-04,900,300,<50,17/15/11,0.12,n.d.,",
  "S-3,C-1,fore,2026-02-04,15000,-,n.d.,-,0.08*,< 1,-",
  "",
].join("\n");
