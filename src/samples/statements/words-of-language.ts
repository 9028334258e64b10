/**
 * Words of one language by which laboratories say that a sample is bad or sound: common practice, no source.
 *
 * In lower case and without accents. Each is a piece of a regular expression that stands for whole words.
 */
export interface StatementWords {
  readonly language: string;
  /** The sample is turned away. */
  readonly rejecting: readonly string[];
  /** Something is wrong, whatever column it is in. */
  readonly doubting: readonly string[];
  /** Something is wrong where a laboratory says it in a column of its own; elsewhere the words may mean other things. */
  readonly doubtingInRemarks: readonly string[];
  /** Nothing is wrong. */
  readonly sound: readonly string[];
  /** What turns the words after it round. */
  readonly denying: readonly string[];
  /** Words that may stand between a denial and what is denied. */
  readonly between: readonly string[];
  /** What follows a word to say that there is nothing of it: "alarms: none". */
  readonly noneOfIt: readonly string[];
  /** Titles under which a laboratory gives a verdict in a word or two, and no more. */
  readonly verdictTitles: readonly string[];
}
