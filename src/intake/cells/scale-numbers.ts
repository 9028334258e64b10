import { ISO_4406_SIZES_UM } from "../../cleanliness/index.js";
import type { ReportedClass } from "../../samples/index.js";

/** A class as one cell states it. */
export interface StatedInCell {
  readonly stated: ReportedClass;
  readonly run: number | undefined;
  /** Of ISO 4406, the size whose scale number alone the cell holds. */
  readonly sizeUmC?: (typeof ISO_4406_SIZES_UM)[number] | undefined;
}

/**
 * The scale numbers of a code that were reported one by one, each run's as one code: 18, 16 and 13 as 18/16/13, and a dash for
 * a size without one.
 */
export function joinScaleNumbers(cells: readonly StatedInCell[]): StatedInCell[] {
  const codes: { readonly run: number | undefined; readonly places: string[] }[] = [];
  const whole = cells.filter(({ stated, run, sizeUmC }) => {
    const at = sizeUmC === undefined ? -1 : ISO_4406_SIZES_UM.indexOf(sizeUmC);
    if (at < 0 || stated.class.includes("/")) return true;
    let code = codes.find((one) => one.run === run && one.places[at] === NONE);
    if (code === undefined) {
      code = { run, places: ISO_4406_SIZES_UM.map(() => NONE) };
      codes.push(code);
    }
    code.places[at] = stated.class;
    return false;
  });
  return [
    ...whole,
    ...codes.map(({ run, places }) => ({
      run,
      stated: { standard: "ISO 4406" as const, class: places.join("/") },
    })),
  ];
}

const NONE = "-";
