import { checkRestedOn, checkRowsOfFile } from "../chain/trust.js";
import { attempt, type Connection } from "./database.js";

/** The file of a book: what rests on it is done after it was compared with its chain, once while it is open. */
export class CheckedFile {
  #isChecked: boolean;
  readonly #checkedFiles = new Set<number>();

  /** @param isChecked - whether another program has compared it already */
  constructor(
    private readonly path: string,
    readonly db: Connection,
    isChecked: boolean,
  ) {
    this.#isChecked = isChecked;
  }

  /** Does something that says for itself what is wrong with the file. */
  attempt<T>(act: (db: Connection) => T): T {
    return attempt(this.path, () => act(this.db));
  }

  /** Does something that rests on the book. */
  checked<T>(act: (db: Connection) => T): T {
    return this.attempt((db) => {
      if (!this.#isChecked) checkRestedOn(db);
      this.#isChecked = true;
      return act(db);
    });
  }

  /** Compares the texts of a laboratory file with the chain, once. */
  checkRowsOf(fileId: number): void {
    if (this.#checkedFiles.has(fileId)) return;
    checkRowsOfFile(this.db, fileId);
    this.#checkedFiles.add(fileId);
  }
}
