import { WORLD_COUNT_LIMITS, WORLD_VOLUME_L, type World, type WorldEvent } from "./worlds.js";

/**
 * What must hold of a circuit that is called fit, told from the world itself and not from the verdict: one line for each thing
 * that is missing.
 *
 * @param drawn - number of the sample that the verdict names
 */
export function whatFitLacks(world: World, cart: string, name: string, drawn: string | undefined): string[] {
  const lacks: string[] = [];
  const must = (holds: boolean, what: string) => {
    if (!holds) lacks.push(what);
  };
  const own = world.carts.carts
    .find((one) => one.cart === cart)
    ?.circuits.find((one) => one.circuit === name);
  const rows = world.rows.filter((one) => one.cart === cart && one.circuit === name);
  const judged = rows.find((one) => one.sample === drawn);
  const requirement = world.requirement.systems[0];
  if (own === undefined || judged === undefined || requirement === undefined)
    return ["no sample of the circuit"];
  const since = own.events.filter(({ on }) => on >= judged.drawnOn);
  const within = (text: string, { min = 0, max }: { min?: number; max: number }) => {
    const [, digits] = /^<?(\d+(?:\.\d+)?)$/.exec(text) ?? [];
    const value = digits === undefined ? Number.NaN : Number(digits);
    return value >= min && value <= max;
  };

  must(
    rows.every((one) => one.drawnOn <= judged.drawnOn),
    "a newer row",
  );
  must(judged.drawnOn <= world.on, "drawn after the day of judging");
  must(
    (Date.parse(world.on) - Date.parse(judged.drawnOn)) / 86_400_000 <= requirement.sampleAgeDaysMax,
    "too old",
  );
  must(!since.some(({ kind, on }) => kind === "fluid-change" && on <= world.on), "of former fluid");
  const needs = (kind: WorldEvent["kind"]) =>
    requirement.after?.find((entry) => entry.event === kind)?.sample ??
    ["fluid-change", "element-change", "hookup"].includes(kind);
  must(!since.some(({ kind }) => needs(kind)), "an event since that needs a sample");
  const topped = since.filter(({ kind }) => kind === "top-up");
  must(
    topped.every(({ added }) => added !== undefined),
    "a top-up without litres",
  );
  const litres = topped.reduce((sum, { added }) => sum + Number.parseFloat(added ?? "0"), 0);
  must(litres <= (requirement.topUpShareMax ?? 0.1) * WORLD_VOLUME_L + 1e-9, "topped up beyond the share");
  const changedSince = own.events.some(
    ({ kind, on }) =>
      kind === "element-change" && own.state !== undefined && on > own.state.on && on <= world.on,
  );
  must(changedSince || !((own.state?.elementUsed ?? 0) >= 1), "a loaded element");

  WORLD_COUNT_LIMITS.forEach((limit, index) => {
    // No more particles are above a size than above a smaller one, or than a limit such as "<20" allows.
    const reachesDown = judged.counts.slice(0, index + 1).some((perMl) => within(perMl, { max: limit }));
    const own = judged.counts[index] as string;
    must(/^\d/.test(own) ? within(own, { max: limit }) : reachesDown, `counts above size ${index + 1}`);
  });
  must(within(judged.water, { max: requirement.waterPpmMax }), "water");
  must(within(judged.acid, { max: requirement.acidMgKohPerGMax }), "acid");
  if (requirement.viscosity40Mm2PerS)
    must(within(judged.viscosity, requirement.viscosity40Mm2PerS), "viscosity");
  if (requirement.chlorinePpmMax)
    must(within(judged.chlorine, { max: requirement.chlorinePpmMax }), "chlorine");
  if (requirement.metalsPpmMax)
    must(within(judged.calcium, { max: requirement.metalsPpmMax.calcium }), "calcium");
  // A row that a number could not be read from may be of the same day or newer: none is passed over.
  const unread = rows.filter(
    (one) => [...one.counts, ...Object.values(one)].includes("N/A?") || one.counts[1] === "12OO",
  );
  must(!unread.some((one) => one.drawnOn >= judged.drawnOn), "a row that was not read");
  must(!["MIL-PRF-5606", "hydraulic oil"].includes(judged.fluid), "the label of another fluid");
  return lacks;
}
