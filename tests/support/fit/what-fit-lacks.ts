import { WORLD_COUNT_LIMITS, WORLD_VOLUME_L, type World, type WorldEvent, type WorldRow } from "./worlds.js";

/** What a verdict names as the bottle of a quantity. */
export interface NamedBottle {
  readonly quantity: string;
  readonly sample?: string | undefined;
}

type Limits = World["requirement"]["systems"][number];

/** How a row shows each quantity: what is in its cells, and whether that is inside. */
const SHOWS: Record<
  string,
  {
    readonly cells: (row: WorldRow) => readonly string[];
    readonly isInside: (row: WorldRow, limits: Limits) => boolean;
  }
> = {
  particles: {
    cells: ({ counts }) => counts,
    isInside: ({ counts }) =>
      WORLD_COUNT_LIMITS.every((max, index) => {
        const own = counts[index] ?? "";
        // No more particles are above a size than above a smaller one, or than a limit such as "<20" allows.
        const reachesDown = counts.slice(0, index + 1).some((perMl) => within(perMl, { max }));
        return /^\d/.test(own) ? within(own, { max }) : reachesDown;
      }),
  },
  water: {
    cells: ({ water }) => [water],
    isInside: ({ water }, { waterPpmMax: max }) => within(water, { max }),
  },
  "acid number": {
    cells: ({ acid }) => [acid],
    isInside: ({ acid }, { acidMgKohPerGMax: max }) => within(acid, { max }),
  },
  "viscosity at 40 °C": {
    cells: ({ viscosity }) => [viscosity],
    isInside: ({ viscosity }, limits) => within(viscosity, limits.viscosity40Mm2PerS),
  },
  chlorine: {
    cells: ({ chlorine }) => [chlorine],
    isInside: ({ chlorine }, { chlorinePpmMax: max }) =>
      within(chlorine, max === undefined ? undefined : { max }),
  },
  calcium: {
    cells: ({ calcium }) => [calcium],
    isInside: ({ calcium }, { metalsPpmMax }) =>
      within(calcium, metalsPpmMax && { max: metalsPpmMax.calcium }),
  },
};

function within(text: string | undefined, limits: { min?: number; max: number } | undefined): boolean {
  const [, digits] = /^<?(\d+(?:\.\d+)?)$/.exec(text ?? "") ?? [];
  const value = digits === undefined ? Number.NaN : Number(digits);
  return limits !== undefined && value >= (limits.min ?? 0) && value <= limits.max;
}

/** A cell that could not be read as what its column holds. */
function isUnread({ counts, ...row }: WorldRow): boolean {
  return [...counts, ...Object.values(row)].includes("N/A?") || counts[1] === "12OO";
}

/** Which quantities an event takes back by itself, where the requirement says nothing of it. */
function needsByItself({ kind }: WorldEvent, quantity: string): boolean {
  if (quantity === "water" && kind === "opening") return true;
  if (quantity === "particles" && (kind === "opening" || kind === "element-change")) return true;
  return kind === "fluid-change";
}

type Timed = { readonly on: string; readonly at?: string | undefined; readonly minutes?: number | undefined };

/** Whether something surely happened before a bottle was drawn. */
export function isBefore({ on, at, minutes = 0 }: Timed, { drawnOn, drawnTime }: WorldRow): boolean {
  if (on !== drawnOn || at === undefined || drawnTime === "") return on < drawnOn;
  const minuteOf = (time: string) => 60 * Number(time.slice(0, 2)) + Number(time.slice(3, 5));
  return minuteOf(at) + minutes < minuteOf(drawnTime);
}

/** Whether two bottles of one circuit may have been drawn in this order. */
function mayBeNewer(one: WorldRow, other: WorldRow, day: readonly WorldRow[]): boolean {
  if (one.drawnOn !== other.drawnOn) return one.drawnOn > other.drawnOn;
  return day.some(({ drawnTime }) => drawnTime === "") || one.drawnTime >= other.drawnTime;
}

/**
 * What must hold of a circuit that is called fit, told from the world itself and not from the verdict: one line for each thing
 * that is missing.
 *
 * @param named - the bottle that the verdict names for each quantity
 */
export function whatFitLacks(
  world: World,
  cart: string,
  name: string,
  named: readonly NamedBottle[],
): string[] {
  const own = world.carts.carts
    .find((one) => one.cart === cart)
    ?.circuits.find((one) => one.circuit === name);
  const [requirement] = world.requirement.systems;
  if (own === undefined || requirement === undefined) return ["no such circuit"];
  const rows = world.rows.filter((one) => one.cart === cart && one.circuit === name);
  const limited = [
    ...["particles", "water", "acid number"],
    ...(requirement.viscosity40Mm2PerS ? ["viscosity at 40 °C"] : []),
    ...(requirement.chlorinePpmMax ? ["chlorine"] : []),
    ...(requirement.metalsPpmMax ? ["calcium"] : []),
  ];
  const isElementChanged = own.events.some(
    ({ kind, on }) =>
      kind === "element-change" && own.state !== undefined && on > own.state.on && on <= world.on,
  );
  return [
    ...(isElementChanged || !((own.state?.elementUsed ?? 0) >= 1) ? [] : ["a loaded element"]),
    ...(rows.every((one) => one.drawnOn <= world.on) ? [] : ["drawn after the day of judging"]),
    ...limited.flatMap((quantity) => {
      const bottle = rows.find(
        ({ sample }) => sample === named.find((one) => one.quantity === quantity)?.sample,
      );
      if (bottle === undefined) return [`no bottle for ${quantity}`];
      return whatBottleLacks(quantity, bottle, { world, rows, requirement, events: own.events }).map(
        (what) => `${quantity}: ${what}`,
      );
    }),
  ];
}

/** What one bottle lacks to show one quantity. */
function whatBottleLacks(
  quantity: string,
  bottle: WorldRow,
  {
    world,
    rows,
    requirement,
    events,
  }: {
    readonly world: World;
    readonly rows: readonly WorldRow[];
    readonly requirement: Limits;
    readonly events: readonly WorldEvent[];
  },
): string[] {
  const lacks: string[] = [];
  const must = (holds: boolean, what: string) => {
    if (!holds) lacks.push(what);
  };
  const ages: Record<string, number | undefined> = {
    particles: requirement.resultAgeDaysMax?.particles,
    "acid number": requirement.resultAgeDaysMax?.acid,
  };
  const oldest = ages[quantity] ?? requirement.sampleAgeDaysMax;
  const { cells, isInside } = SHOWS[quantity] as (typeof SHOWS)[string];
  const since = events.filter((event) => !isBefore(event, bottle));
  const reporting = rows.filter((row) => cells(row).some((cell) => cell !== ""));
  must(isInside(bottle, requirement), "not inside");
  must(!reporting.some(({ drawnOn }) => drawnOn > bottle.drawnOn), "a newer row reports it");
  const ofDay = reporting.filter(({ drawnOn }) => drawnOn === bottle.drawnOn);
  must(
    ofDay.filter((row) => mayBeNewer(row, bottle, ofDay)).every((row) => isInside(row, requirement)),
    "a row of the same day that may be newer is not inside",
  );
  // A row that a number could not be read from may be of the same day or newer: none is passed over.
  must(!rows.some((row) => isUnread(row) && row.drawnOn >= bottle.drawnOn), "a row that was not read");
  must((Date.parse(world.on) - Date.parse(bottle.drawnOn)) / 86_400_000 <= oldest, "too old");
  must(!since.some(({ kind, on }) => kind === "fluid-change" && on <= world.on), "of former fluid");
  const needs = (event: WorldEvent) =>
    event.aircraftFound === "dirty" ||
    (requirement.after?.find((entry) => entry.event === event.kind)?.sample ??
      needsByItself(event, quantity));
  must(!since.some(needs), "an event since that needs a sample");
  const topped = since.filter(({ kind }) => kind === "top-up");
  must(
    topped.every(({ added }) => added !== undefined),
    "a top-up without litres",
  );
  const litres = topped.reduce((sum, { added }) => sum + Number.parseFloat(added ?? "0"), 0);
  must(litres <= (requirement.topUpShareMax ?? 0.1) * WORLD_VOLUME_L + 1e-9, "topped up beyond the share");
  must(!["MIL-PRF-5606", "hydraulic oil"].includes(bottle.fluid), "the label of another fluid");
  return lacks;
}
