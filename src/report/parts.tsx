import type { ComponentChildren } from "preact";
import type { ShownOn } from "../figures/index.js";
import {
  describeStands,
  isHeld,
  type JudgedCircuit,
  SIGN_SHAPES,
  standsAs,
  type VerdictName,
} from "../fitness/index.js";

/** What stands, as a shape and a word in a box; the word says it all, the rest makes it easy to find from far away. */
export function VerdictMark({ judged }: { judged: JudgedCircuit }) {
  const held = isHeld(judged);
  const stands = standsAs(judged);
  return (
    <span class={held ? "verdict held" : `verdict ${stands}`}>
      <Shape sign={held ? "held" : stands} />
      {describeStands(stands, held)}
    </span>
  );
}

/** The shape of what stands, where the word is next to it or in its name. */
export function Shape({ sign }: { sign: VerdictName | "held" }) {
  const { filled, outline, inside } = SIGN_SHAPES[sign];
  const line = { "stroke-width": 6, "stroke-linecap": "round", "stroke-linejoin": "round" } as const;
  return (
    <svg class={filled ? "shape filled" : "shape"} viewBox="0 0 64 64" aria-hidden="true">
      <path d={outline} {...line} />
      <path d={inside} {...line} class="inside" />
    </svg>
  );
}

/**
 * A picture made by the module figures, drawn for a page and for the screen of a phone, of which one is shown; its text
 * was escaped when it was drawn.
 */
export function Picture({ draw, kind }: { draw: (shownOn: ShownOn) => string | undefined; kind?: string }) {
  const forPage = draw("page");
  if (forPage === undefined) return null;
  return (
    <figure class={kind}>
      <div class="for-page" dangerouslySetInnerHTML={{ __html: forPage }} />
      <div class="for-phone" dangerouslySetInnerHTML={{ __html: draw("phone") ?? "" }} />
    </figure>
  );
}

/** Something that may be wider than the page and then scrolls by itself; the keyboard can reach and move it. */
export function Wide({ label, children }: { label: string; children: ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="scroll" aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
