/**
 * How well a value is confirmed.
 *
 * - `confirmed`: seen on two or more independent pages
 * - `one-document`: stated in one document or by one publisher, possibly in several copies
 * - `single`: seen on one page only
 * - `computed`: arithmetic from other stated values
 * - `inference`: reasoned from a source that does not state it
 * - `practice`: common practice, no source
 * - `memory`: recalled, not seen in print; only ever an editable default
 */
export type SourceStanding =
  | "confirmed"
  | "one-document"
  | "single"
  | "computed"
  | "inference"
  | "practice"
  | "memory";

/** One entry of the bibliography. */
export interface Source {
  readonly title: string;
  readonly edition: string;
  /** Clause, table or page that holds the value. */
  readonly clause?: string;
  readonly standing: SourceStanding;
}
