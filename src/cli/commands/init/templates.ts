/**
 * A carts file to fill in: a value that begins with "?" says what belongs there, and is refused with its place until it is
 * filled in. No value is one that somebody could leave standing.
 */
export const CARTS = {
  carts: [
    {
      cart: "? the name of the cart, as the laboratory writes it",
      note: 'optional: leave "note" out, or say what a reader should know. "units": "us" answers in US gallons and psi.',
      circuits: [
        {
          circuit: "? the name of the circuit, such as main",
          serves: "? the aircraft system, by the name that requirement.json gives it",
          fluid: "? the specification of the fluid, such as MIL-PRF-83282 or AS1241 Type IV",
          volume: "? reservoir, hoses and piping together, such as 60 L or 16 US gal",
          flow: "? flow through the filter while circulating, such as 45 L/min or 12 US gpm",
          element: {
            position: "pressure",
            rating:
              "? what the element is rated, such as β10(c) = 1000 or 3 µm absolute; leave it out if nobody knows",
          },
          events: [],
        },
      ],
    },
  ],
} as const;

/** A requirements file to fill in, in the same way. No limit is proposed: they are those of the aircraft's manual. */
export const REQUIREMENT = {
  document: "? the manual that the limits are from",
  revision: "? its revision or date",
  systems: [
    {
      system: "? the aircraft system, as in carts.json",
      fluids: ["? the specification of its fluid, such as MIL-PRF-83282"],
      cleanliness: ["? the class it asks for, such as AS4059 cumulative 7A-F, NAS 1638 7 or 17/15/12"],
      waterPpmMax: "? the most water in ppm by mass, a number",
      acidMgKohPerGMax: "? the largest acid number in mg KOH/g, a number",
      sampleAgeDaysMax: "? the oldest sample that counts, in days, a number",
    },
  ],
} as const;
