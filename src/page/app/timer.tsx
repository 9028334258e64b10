import { useEffect, useState } from "preact/hooks";
import { minutesUp } from "../../circulation/index.js";

/** A timer that runs, or rests with what is left. */
export interface Running {
  /** The circuit that is circulated. */
  readonly name: string;
  readonly minutes: number;
  /** When it will be over, in milliseconds of the device's clock; absent while it rests. */
  readonly endsAt?: number;
  readonly leftMs: number;
}

/** A timer of whole minutes, rounded up. */
export function startTimer(minutes: number, name: string): Running {
  const whole = minutesUp(minutes);
  const leftMs = whole * 60_000;
  return { name, minutes: whole, endsAt: Date.now() + leftMs, leftMs };
}

/** What is left, and what to do when it is over. It stays in sight while the page is used. */
export function TimerBar({
  timer,
  onChange,
}: {
  timer: Running;
  onChange: (timer: Running | undefined) => void;
}) {
  const now = useNow(timer.endsAt !== undefined);
  const leftMs = timer.endsAt === undefined ? timer.leftMs : Math.max(0, timer.endsAt - now);
  const isOver = leftMs === 0;
  const { endsAt: _end, ...resting } = { ...timer, leftMs };
  return (
    <section class="timer" aria-label="Timer">
      <div class="row">
        <span class="clock" role="timer">
          {formatClock(leftMs)}
        </span>
        <span>
          {timer.name}, {timer.minutes} min
        </span>
        {!isOver && (
          <button
            type="button"
            onClick={() =>
              onChange(timer.endsAt === undefined ? { ...timer, endsAt: Date.now() + leftMs } : resting)
            }
          >
            {timer.endsAt === undefined ? "Go on" : "Pause"}
          </button>
        )}
        <button type="button" onClick={() => onChange(undefined)}>
          {isOver ? "Close" : "Stop"}
        </button>
      </div>
      {isOver && (
        <p class="notice" role="alert">
          The time is over. Draw the verifying sample while the fluid is flowing. Do not connect before its
          result is judged fit.
        </p>
      )}
    </section>
  );
}

function useNow(runs: boolean): number {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    if (!runs) return undefined;
    setNow(Date.now());
    const timer = setInterval(() => setNow(Date.now()), 250);
    return () => clearInterval(timer);
  }, [runs]);
  return now;
}

function formatClock(leftMs: number): string {
  const seconds = Math.ceil(leftMs / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}
