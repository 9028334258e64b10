/** Options of `siltbook follow`. */
export interface FollowOptions {
  readonly target?: string;
  readonly book?: string;
  readonly carts?: string;
  readonly requirement?: string;
  readonly cart?: string;
  readonly circuit?: string;
  readonly port?: string;
  readonly on?: string;
  readonly log?: string;
  /** Column map of a log that is a table. */
  readonly map?: string;
  readonly keep?: string;
  readonly confidence?: string;
  readonly counted?: string;
  readonly repeatability?: string;
  readonly bias?: string;
  /** The last day of the calibration of the counter. */
  readonly calibrated?: string;
  /** The clean element and its indicator. */
  readonly indicator?: string;
  readonly json?: boolean;
}
