import type { JudgeOptions } from "../judge/judgement.js";
import type { InterimOptions } from "./circulate-interim.js";

/** Options of `siltbook circulate`. With a book or a carts file, what is given takes the place of what stands there. */
export interface CirculateOptions extends InterimOptions, Omit<JudgeOptions, "since"> {
  readonly circuit?: string;
  /** File to write the sheet of the circuit to. */
  readonly sheet?: string;
  readonly volume?: string;
  readonly flow?: string;
  /** One text for each element of the main stream. */
  readonly beta?: readonly string[];
  readonly start?: string;
  readonly target?: string;
  readonly ingress?: string;
  readonly bypass?: string;
  readonly sideStream?: string;
  readonly creditBelowRated?: boolean;
  /** One text for hoses of one bore each. */
  readonly hoses?: readonly string[];
  readonly fluid?: string;
  readonly coldest?: string;
  readonly port?: string;
  readonly mixing?: string;
  readonly slowZone?: string;
  readonly settled?: string;
  readonly after?: string;
  readonly within?: string;
  readonly confidence?: string;
  readonly seed?: string;
  readonly draws?: string;
  readonly element?: string;
  readonly indicator?: string;
  readonly heat?: string;
}
