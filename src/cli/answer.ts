import type * as z from "zod";
import type { ANSWERS } from "./answers/index.js";

/** A command that answers in JSON. */
export type AnswerName = keyof typeof ANSWERS;

/** The forms that the answer of a command may have, as they are described. */
type Described<C extends AnswerName> = (typeof ANSWERS)[C] extends readonly [string, ...infer F]
  ? z.infer<F[number]>
  : never;

/** What JSON makes of a value: a field that is undefined is absent. */
type Json<T> = T extends string | number | boolean | null
  ? T
  : T extends readonly unknown[]
    ? { readonly [K in keyof T]: Json<T[K]> }
    : unknown extends T
      ? unknown
      : Flat<
          { readonly [K in keyof T as undefined extends T[K] ? never : K]: Json<T[K]> } & {
            readonly [K in keyof T as undefined extends T[K] ? K : never]?: Json<Exclude<T[K], undefined>>;
          }
        >;

type Flat<T> = { readonly [K in keyof T]: T[K] };

type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;

/** Whether each form of an answer is one of the described ones, to the last field. */
type IsDescribed<A, D> = A extends unknown
  ? true extends (D extends unknown ? Same<Json<A>, Json<D>> : never)
    ? true
    : false
  : never;

/** An answer that names its description. */
export interface NamedAnswer {
  /** See {@link idOfAnswer}. */
  readonly schema: string;
}

/** Numbers of versions above the first; a number goes up when somebody who reads the one before may be misled. */
const LATER_VERSIONS: Partial<Record<AnswerName, number>> = {};

/** Names the description of a command's answer. */
export function idOfAnswer(command: AnswerName): string {
  return `https://siltbook.invalid/answers/${command}.v${LATER_VERSIONS[command] ?? 1}.schema.json`;
}

/**
 * An answer with the name of its description.
 *
 * It does not compile where the answer and its description in answers/ are not the same.
 */
export function answerOf<C extends AnswerName, A extends object>(
  command: C,
  answer: A & ([IsDescribed<A, Described<C>>] extends [true] ? unknown : "not as answers/ describes it"),
): NamedAnswer {
  return { schema: idOfAnswer(command), ...answer };
}
