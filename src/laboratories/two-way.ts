import { checkNumbers, studentQuantile } from "../numeric/index.js";

/** What one laboratory found of one material: a single result, or the mean of several. */
export interface Cell {
  readonly material: string;
  readonly laboratory: string;
  readonly value: number;
}

/** How far one laboratory reads from the reference. */
export interface LaboratoryEffect {
  readonly laboratory: string;
  /** How many materials it shares with another laboratory. */
  readonly materials: number;
  readonly effect: number;
  readonly standardError: number;
  readonly low: number;
  readonly high: number;
}

/** Laboratories that shared materials link. */
export interface TwoWayLayout {
  /** By name; the reference itself is among them with an effect of 0 where it is a laboratory. */
  readonly laboratories: readonly LaboratoryEffect[];
  /** Scatter of a cell about the sum of its material and its laboratory. */
  readonly residualSd: number;
  readonly degreesOfFreedom: number;
}

/** What laboratories are compared with. */
export interface TwoWayOptions {
  /** A laboratory; the mean of all of them when absent. */
  readonly reference?: string | undefined;
  /** With which all intervals hold together. */
  readonly confidence?: number;
}

/**
 * Compares laboratories that measured the same materials, not every one of them each material.
 *
 * Least squares of value = material + laboratory. With two laboratories that is the paired t test. Of k intervals each has
 * the confidence 1 − (1 − confidence) / k, so that all hold together (Bonferroni).
 *
 * @throws RangeError when a laboratory shares no chain of materials with the others, when the reference is not among them,
 *   or when nothing is left over to see the scatter by
 * @source TWO-WAY-LAYOUT
 * @example
 * const cells = [["a", 5, 4], ["b", 7, 5], ["c", 3, 3]].flatMap(([material, north, south]) => [
 *   { material, laboratory: "North", value: north }, { material, laboratory: "South", value: south },
 * ]);
 * twoWayLayout(cells, { reference: "North" }).laboratories[1];
 * // => { laboratory: "South", materials: 3, effect: -1, standardError: 0.577, low: -3.484, high: 1.484 }
 */
export function twoWayLayout(
  cells: readonly Cell[],
  { reference, confidence = 0.95 }: TwoWayOptions = {},
): TwoWayLayout {
  for (const { value } of cells) checkNumbers("finite", { "a result": value });
  const shared = sharedMaterials(cells);
  const names = [...new Set(shared.flat().map(({ laboratory }) => laboratory))].sort();
  const at = new Map(names.map((name, index) => [name, index]));
  if (reference !== undefined && !at.has(reference)) {
    throw new RangeError(`the reference must be one of ${names.join(", ")}, not ${reference}`);
  }
  if (linkedLaboratories(cells).length !== 1) {
    throw new RangeError("laboratories can be compared only when materials that they share link all of them");
  }
  const count = shared.reduce((sum, material) => sum + material.length, 0);
  const degreesOfFreedom = count - shared.length - (names.length - 1);
  if (!(degreesOfFreedom > 0))
    throw new RangeError("more results are needed than materials and laboratories together");

  // The materials are eliminated; the last laboratory is held at 0.
  const size = names.length - 1;
  const normal = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const right = new Array<number>(size).fill(0);
  for (const material of shared) {
    const mean = meanOf(material.map(({ value }) => value));
    for (const { laboratory, value } of material) {
      const row = at.get(laboratory) as number;
      if (row === size) continue;
      right[row] = (right[row] as number) + value - mean;
      const line = normal[row] as number[];
      line[row] = (line[row] as number) + 1;
      for (const other of material) {
        const column = at.get(other.laboratory) as number;
        if (column < size) line[column] = (line[column] as number) - 1 / material.length;
      }
    }
  }
  const inverse = inverted(normal);
  const solved = inverse.map((row) =>
    row.reduce((sum, entry, index) => sum + entry * (right[index] as number), 0),
  );
  const effectOf = (laboratory: string) => solved[at.get(laboratory) as number] ?? 0;
  const squares = shared.reduce((sum, material) => {
    const rests = material.map(({ laboratory, value }) => value - effectOf(laboratory));
    const mean = meanOf(rests);
    return sum + rests.reduce((part, rest) => part + (rest - mean) ** 2, 0);
  }, 0);
  const residualSd = Math.sqrt(squares / degreesOfFreedom);
  const intervals = Math.max(1, reference === undefined ? names.length : names.length - 1);
  const t = studentQuantile(1 - (1 - confidence) / (2 * intervals), degreesOfFreedom);
  const laboratories = names.map((laboratory): LaboratoryEffect => {
    const weights = names.map(
      (name) =>
        (name === laboratory ? 1 : 0) -
        (reference === undefined ? 1 / names.length : name === reference ? 1 : 0),
    );
    const effect = names.reduce((sum, name, index) => sum + (weights[index] as number) * effectOf(name), 0);
    const standardError = residualSd * Math.sqrt(Math.max(0, quadratic(inverse, weights)));
    return {
      laboratory,
      materials: shared.filter((material) => material.some((cell) => cell.laboratory === laboratory)).length,
      effect,
      standardError,
      low: effect - t * standardError,
      high: effect + t * standardError,
    };
  });
  return { laboratories, residualSd, degreesOfFreedom };
}

/** The laboratories that chains of shared materials link, each group by name; a laboratory that shares no material is left out. */
export function linkedLaboratories(cells: readonly Cell[]): string[][] {
  const groups: Set<string>[] = [];
  for (const material of sharedMaterials(cells)) {
    const merged = new Set(material.map(({ laboratory }) => laboratory));
    for (const group of groups.filter((one) => material.some(({ laboratory }) => one.has(laboratory)))) {
      for (const name of group) merged.add(name);
      groups.splice(groups.indexOf(group), 1);
    }
    groups.push(merged);
  }
  return groups.map((group) => [...group].sort());
}

/** The cells of each material that two or more laboratories measured. */
function sharedMaterials(cells: readonly Cell[]): Cell[][] {
  const byMaterial = new Map<string, Map<string, Cell>>();
  for (const cell of cells) {
    const material = byMaterial.get(cell.material) ?? new Map<string, Cell>();
    if (material.has(cell.laboratory)) {
      throw new RangeError(
        `material ${cell.material} has two cells of laboratory ${cell.laboratory}; take their mean`,
      );
    }
    byMaterial.set(cell.material, material.set(cell.laboratory, cell));
  }
  return [...byMaterial.values()]
    .filter((material) => material.size > 1)
    .map((material) => [...material.values()]);
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function quadratic(matrix: readonly (readonly number[])[], vector: readonly number[]): number {
  return matrix.reduce(
    (sum, row, i) =>
      sum + row.reduce((part, entry, j) => part + (vector[i] as number) * entry * (vector[j] as number), 0),
    0,
  );
}

/** The inverse of a symmetric positive definite matrix, by Gauss and Jordan; no pivoting is needed. */
function inverted(matrix: readonly (readonly number[])[]): number[][] {
  const size = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...Array.from({ length: size }, (_, j) => (i === j ? 1 : 0))]);
  for (let pivot = 0; pivot < size; pivot += 1) {
    const by = (rows[pivot] as number[])[pivot] as number;
    const scaled = (rows[pivot] as number[]).map((entry) => entry / by);
    rows[pivot] = scaled;
    for (let other = 0; other < size; other += 1) {
      if (other === pivot) continue;
      const factor = (rows[other] as number[])[pivot] as number;
      rows[other] = (rows[other] as number[]).map((entry, j) => entry - factor * (scaled[j] as number));
    }
  }
  return rows.map((row) => row.slice(size));
}
