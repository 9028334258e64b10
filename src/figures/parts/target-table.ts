import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  type ClassTable,
  type CleanlinessTarget,
  ISO_4406,
  ISO_4406_SIZES_UM,
  NAS_1638,
  NAVY_CLASSES,
} from "../../cleanliness/index.js";

/** The table that a target is written in, and the class that it allows in each channel. */
export interface TargetTable {
  readonly table: ClassTable<string, string>;
  /** A channel without a limit is not in it. */
  readonly allowed: ReadonlyMap<string, string>;
  /** What a class of this standard is called: "class", or "scale number" for ISO 4406. */
  readonly noun: string;
}

/** Finds the table of a target; of ISO 4406 without limits when there is no target. */
export function tableOf(target: CleanlinessTarget | undefined): TargetTable {
  if (target === undefined) return { table: ISO_4406, allowed: new Map(), noun: "scale number" };
  switch (target.standard) {
    case "ISO 4406":
      return {
        table: ISO_4406,
        allowed: new Map(
          target.code.flatMap((place, index) =>
            place.kind === "number" ? [[String(ISO_4406_SIZES_UM[index]), String(place.scaleNumber)]] : [],
          ),
        ),
        noun: "scale number",
      };
    case "AS4059 cumulative":
      return {
        table: AS4059_CUMULATIVE,
        allowed: new Map(target.bySize.map((part) => [part.size, part.class])),
        noun: "class",
      };
    case "AS4059 differential":
      return everywhere(AS4059_DIFFERENTIAL, target.class);
    case "NAS 1638":
      return everywhere(NAS_1638, target.class);
    case "NAVAIR 01-1A-17":
      return everywhere(NAVY_CLASSES, target.class);
  }
}

function everywhere(table: ClassTable<string, string>, allowed: string): TargetTable {
  return { table, allowed: new Map(table.channels.map(({ name }) => [name, allowed])), noun: "class" };
}

/** The classes of a table from the cleanest on, with what lies beyond the last. */
export function classNames(table: ClassTable<string, string>): string[] {
  return [...table.rows.map(([name]) => name), table.beyond];
}

/** Names a channel with its size: "A, >4 µm(c)"; where the name is the size itself, it is not said twice. */
export function formatChannel(table: ClassTable<string, string>, name: string): string {
  const channel = table.channels.find((entry) => entry.name === name);
  if (channel === undefined) return name;
  const size =
    channel.toUm === undefined ? `>${channel.fromUm} µm(c)` : `${channel.fromUm}-${channel.toUm} µm(c)`;
  return size.replace(" µm(c)", "").replace(">", "") === name.replace(">", "") ? size : `${name}, ${size}`;
}
