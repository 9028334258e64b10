import type { ComponentChildren } from "preact";
import { describeStands, isHeld, type JudgedCircuit, standsAs } from "../fitness/index.js";

/** What stands as a word in a box; the word says it all, the box only makes it easy to find. */
export function VerdictMark({ judged }: { judged: JudgedCircuit }) {
  const held = isHeld(judged);
  const stands = standsAs(judged);
  return <span class={held ? "verdict held" : `verdict ${stands}`}>{describeStands(stands, held)}</span>;
}

/** A picture made by the module figures; its text was escaped when it was drawn. */
export function Picture({ svg }: { svg: string }) {
  return (
    <figure>
      {/* A picture may be wider than a phone; it then scrolls by itself, with the arrow keys too. */}
      <Wide label="Picture">
        <div dangerouslySetInnerHTML={{ __html: svg }} />
      </Wide>
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
