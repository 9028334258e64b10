import { type FluidSpecification, tryParseFluidSpecification } from "../../../fluids/index.js";
import type { Assumption } from "../../../provenance/index.js";
import type { QuantityKind } from "../../../units/index.js";
import { readFraction, readQuantityOption, readSettings } from "../../arguments.js";
import { UsageError } from "../../io.js";

/** Something read, with what was assumed in reading it. */
export interface Read<T> {
  readonly value: T;
  readonly assumptions: readonly Assumption[];
}

/** Reads the settings of one option, each with its unit, and keeps what was assumed. */
export class SettingsReader<N extends string> {
  readonly assumptions: Assumption[] = [];
  private readonly settings: Partial<Record<N, string>>;

  constructor(
    private readonly option: string,
    text: string,
    names: readonly N[],
  ) {
    this.settings = readSettings(option, text, names);
  }

  text(name: N): string | undefined {
    return this.settings[name];
  }

  optional(name: N, kind: QuantityKind): number | undefined {
    const text = this.settings[name];
    if (text === undefined) return undefined;
    const read = readQuantityOption(`${this.option} ${name}`, text, kind);
    this.assumptions.push(...read.assumptions);
    return read.value;
  }

  needed(name: N, kind: QuantityKind): number {
    const value = this.optional(name, kind);
    if (value === undefined) throw new UsageError(`${this.option}: "${name}" is needed`);
    return value;
  }

  fraction(name: N): number | undefined {
    const text = this.settings[name];
    return text === undefined ? undefined : readFraction(`${this.option} ${name}`, text);
  }

  fluid(name: N): FluidSpecification | undefined {
    const text = this.settings[name];
    if (text === undefined) return undefined;
    const fluid = tryParseFluidSpecification(text);
    if (fluid === undefined) throw new UsageError(`${this.option}: "${text}" names no fluid that is known`);
    return fluid;
  }
}
