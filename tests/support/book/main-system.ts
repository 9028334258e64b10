/** A laboratory file with everything that the requirement asks for; a test may add columns. */
export const HEADER =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";

/** A circuit of a carts file. */
export const circuitNamed = (circuit: string, more: object = {}) => ({
  circuit,
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
  ...more,
});

/** A requirements file; limits of an example. */
export const requirementsWith = (more: object = {}) => ({
  document: "example limits",
  revision: "3",
  systems: [
    {
      system: "main system",
      aircraft: "fleet A",
      fluids: ["MIL-PRF-83282"],
      cleanliness: ["17/15/12"],
      waterPpmMax: 200,
      acidMgKohPerGMax: 0.2,
      sampleAgeDaysMax: 30,
      ...more,
    },
  ],
});
