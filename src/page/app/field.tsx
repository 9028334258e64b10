import { useId } from "preact/hooks";

/** A field with its name above it, large enough for gloves. */
export function Field({
  name,
  hint,
  value,
  onInput,
  type = "text",
  numeric = false,
}: {
  name: string;
  hint?: string;
  value: string;
  onInput: (text: string) => void;
  type?: "text" | "date" | "time";
  /** Whether the device is to show figures. */
  numeric?: boolean;
}) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>
        {name}
        {hint !== undefined && <span class="hint">{hint}</span>}
      </label>
      <input
        id={id}
        type={type}
        value={value}
        inputMode={numeric ? "decimal" : "text"}
        autocomplete="off"
        autocapitalize="off"
        spellcheck={false}
        onInput={(event) => onInput(event.currentTarget.value)}
      />
    </div>
  );
}

/** A choice between a few words. */
export function Choice({
  name,
  value,
  options,
  onInput,
}: {
  name: string;
  value: string;
  options: readonly (readonly [value: string, words: string])[];
  onInput: (value: string) => void;
}) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{name}</label>
      <select id={id} value={value} onChange={(event) => onInput(event.currentTarget.value)}>
        {options.map(([option, words]) => (
          <option key={option} value={option}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

/** What could not be read, and what was expected. */
export function Problems({ problems }: { problems: readonly string[] }) {
  return (
    <ul class="notice">
      {problems.map((problem) => (
        <li key={problem}>{problem}</li>
      ))}
    </ul>
  );
}

/** Sentences, one a paragraph, each beginning with a capital and ending with a full stop. */
export function Sentences({ lines }: { lines: readonly string[] }) {
  return (
    <>
      {lines.map((line) => (
        <p key={line}>{sentence(line)}</p>
      ))}
    </>
  );
}

/** A line as a sentence. */
export function sentence(line: string): string {
  return `${line.charAt(0).toUpperCase()}${line.slice(1)}${/[.!?]$/.test(line) ? "" : "."}`;
}
