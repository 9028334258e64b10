import * as z from "zod";
import { day, verdictName } from "./fields.js";

const decision = {
  number: z.number().describe("Number of the decision in the book, which lifting names."),
  at: z.string().describe("When it was entered, as ISO 8601."),
  person: z.string(),
  second: z.string().nullable().describe("A second person who agreed."),
  decision: verdictName,
  reason: z.string(),
  until: day.nullable().describe("Last day of a milder decision."),
  madeOn: z.object({ verdict: verdictName, on: day }).nullable().describe("The verdict that it was made on."),
  lifted: z
    .object({ at: z.string(), person: z.string(), reason: z.string() })
    .nullable()
    .describe("Who lifted it, when and why."),
};

const effect = z
  .enum(["holds", "milder", "ended", "other-verdict", "lifted"])
  .describe("What it does to the verdict now.");

export const decisionOfPerson = z
  .object({ ...decision, effect: effect.optional() })
  .meta({ id: "Decision", description: "What a person decided about a circuit." });

export const circuitDecision = z
  .object({ cart: z.string(), circuit: z.string(), ...decision, effect: effect.optional() })
  .meta({ id: "CircuitDecision", description: "What a person decided, with the circuit it is about." });

export const heldBy = z.array(z.string()).describe("Who holds the circuit, in words.");

export const decisionsOfCircuit = { heldBy, decisions: z.array(decisionOfPerson) };

export const rowsOfNoCart = z
  .array(
    z.object({
      where: z.string().describe("File and row."),
      cart: z.string().nullable().describe("The cart as it is written there."),
      circuit: z.string().nullable().describe("The circuit as it is written there."),
      drawnOn: day.nullable(),
    }),
  )
  .describe('Rows that can be given to no cart; every "fit" has to be read with them.');

export const cartTogether = z
  .object({
    cart: z.string(),
    verdict: verdictName.describe("The worst of its circuits."),
    pairings: z
      .array(
        z.object({
          aircraft: z.string(),
          systems: z.array(
            z.object({
              system: z.string(),
              circuit: z.string().optional().describe("The circuit that serves it; absent where none does."),
              verdict: verdictName.optional().describe("What stands for that circuit."),
              held: z.literal(true).optional().describe("Where a person's decision holds that circuit."),
            }),
          ),
        }),
      )
      .describe("Each aircraft with the circuit that would serve each of its systems."),
    neverMeet: z.array(z.tuple([z.string(), z.string()])).describe("Circuits whose fluids must never meet."),
  })
  .meta({ id: "CartTogether", description: "All circuits of a cart together." });
