type Given<T> = { [K in keyof T as null extends T[K] ? K : never]?: Exclude<T[K], null> } & {
  [K in keyof T as null extends T[K] ? never : K]: T[K];
};

/** Values of a row; those that are null in the book are absent. */
export function given<T extends object>(values: T): Given<T> {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== null)) as Given<T>;
}
