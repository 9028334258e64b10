import type { ComponentChildren } from "preact";
import type { Verdict } from "../fitness/index.js";

/** A verdict as a word in a box; the word says it all, the box only makes it easy to find. */
export function VerdictMark({ verdict }: { verdict: Verdict }) {
  return <span class={`verdict ${verdict.verdict}`}>{verdict.verdict}</span>;
}

/** A picture made by the figures room; its text was escaped when it was drawn. */
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
