import type { ClassName } from "../../cleanliness/index.js";
import { isReadable } from "../../samples/index.js";
import { statedCode, statedName } from "../checks.js";
import type { Conventions } from "../conventions.js";
import { readClock, readDate } from "../dates.js";
import { type DescribedReading, readDescription } from "../described.js";
import type { Description } from "../meaning.js";
import { ByteNames } from "./names.js";

/** A day that is not written year first. */
export interface SettledDay {
  /** 20260314 for 2026-03-14. */
  readonly day: number;
  /** Whether it has this reading only because of other days of the file. */
  readonly byOthers: boolean;
}

/** How a cell of a day that is not written year first is read, once the whole file has been looked at. */
function dayOf(text: string, { dates }: Conventions): SettledDay | undefined {
  const reading = readDate(text, dates);
  if (reading.kind !== "read" || reading.moment.time !== undefined) return undefined;
  return {
    day: Number(reading.moment.day.replaceAll("-", "")),
    byOthers: reading.byOthers !== undefined,
  };
}

/** The text of a cell of a class, and what it states. */
export interface StatedClass {
  readonly text: string;
  /** The three scale numbers of an ISO 4406 code in one number, 211713 for 21/17/13; −1 when it is no plain code. */
  readonly code: number;
  /** The class of AS4059 or NAS 1638; absent when it is none. */
  readonly name?: ClassName;
}

function statedIn(text: string): StatedClass | undefined {
  if (text === "" || text === "-") return undefined;
  const [, ...places] = /^(\d+)\/(\d+)\/(\d+)$/.exec(statedCode(text) ?? "") ?? [];
  const name = statedName(text);
  return {
    text,
    code: places.length === 3 ? packedCode(...(places.map(Number) as [number, number, number])) : -1,
    ...(name !== undefined && { name }),
  };
}

/** Three scale numbers in one number. */
export function packedCode(at4: number, at6: number, at14: number): number {
  return at4 * 10_000 + at6 * 100 + at14;
}

function wordsOf(description: Description): ByteNames<DescribedReading> {
  return new ByteNames((text) => readDescription(description, text));
}

/** What the texts of a file are, shared by all its blocks. */
export class Texts {
  readonly names = new ByteNames<string>((text) => {
    const plain = text.trim().replace(/\s+/g, " ");
    return plain === "" || !isReadable(plain) ? undefined : plain;
  });
  readonly times: ByteNames<string>;
  readonly classes = new ByteNames<StatedClass>((text) => statedIn(text.trim()));
  readonly described: Readonly<Record<Description, ByteNames<DescribedReading>>> = {
    colour: wordsOf("colour"),
    appearance: wordsOf("appearance"),
    "sample-point": wordsOf("sample-point"),
    flowing: wordsOf("flowing"),
  };
  readonly days = new ByteNames<SettledDay>((text) => this.#conventions && dayOf(text, this.#conventions));
  #conventions: Conventions | undefined;

  constructor(zone: string | undefined) {
    this.times = new ByteNames((text) => {
      const clock = readClock(text.trim());
      return clock === undefined || zone === undefined || /(Z|[+-]\d{2}:\d{2})$/.test(clock)
        ? clock
        : `${clock}${zone}`;
    });
  }

  /** Days may be read by what the whole file shows. */
  settle(conventions: Conventions): void {
    this.#conventions = conventions;
  }

  get daysAreSettled(): boolean {
    return this.#conventions !== undefined;
  }
}
