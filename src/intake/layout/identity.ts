import type { Sample } from "../../samples/index.js";

/** Who a sample is, as far as it could be read. */
export type Identity = Partial<
  Pick<
    Sample,
    | "sample"
    | "cart"
    | "circuit"
    | "fluid"
    | "drawnOn"
    | "drawnTime"
    | "receivedOn"
    | "reportedOn"
    | "calibrationDueOn"
  >
>;
