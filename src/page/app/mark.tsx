import { SIGN_SHAPES, type SignShape } from "../../fitness/index.js";
import type { Sign } from "../model/shown.js";

/** A triangle with an exclamation mark: the page itself cannot be gone by. */
const WARNING: SignShape = { filled: true, outline: "M32 4l29 54h-58z", inside: "M32 22v18M32 48v2" };

const SHAPES: Readonly<Record<Sign, SignShape>> = {
  ...SIGN_SHAPES,
  "too-old": WARNING,
  "clock-wrong": WARNING,
};

/** The shape of a sign; the word next to it says the same. */
export function Mark({ sign }: { sign: Sign }) {
  const { filled, outline, inside } = SHAPES[sign];
  const line = {
    fill: "none",
    "stroke-width": 5,
    "stroke-linecap": "round",
    "stroke-linejoin": "round",
  } as const;
  return (
    <svg class="mark" viewBox="0 0 64 64" aria-hidden="true">
      <path
        d={outline}
        fill={filled ? "currentColor" : "none"}
        stroke="currentColor"
        stroke-width={5}
        stroke-linejoin="round"
      />
      <path
        d={inside}
        {...line}
        class={filled ? "cut" : ""}
        stroke={filled ? "var(--paper)" : "currentColor"}
      />
    </svg>
  );
}
