/**
 * How often a property is tried: as often as it says, or more often when PROPERTY_RUNS says how many times as much.
 *
 * What runs on every change has to be quick; before a release the same properties are tried ten times as often, with
 * other cases (property-seed.ts).
 */
export const runs = (usual: number): number => Math.ceil(usual * Number(process.env.PROPERTY_RUNS ?? 1));
