import { useEffect, useState } from "preact/hooks";
import type { CircuitCase, VerdictOnCircuit } from "../../fitness/index.js";
import { judgeOn, type PageData } from "../model/page-data.js";

/** The calendar day that the device shows, which may change while the page is open. */
export function useDeviceDay(): string {
  const [day, setDay] = useState(deviceDay);
  useEffect(() => {
    const look = () => setDay(deviceDay());
    const timer = setInterval(look, 30_000);
    document.addEventListener("visibilitychange", look);
    return () => {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", look);
    };
  }, []);
  return day;
}

function deviceDay(): string {
  const now = new Date();
  const figures = (number: number, length: number) => String(number).padStart(length, "0");
  return `${figures(now.getFullYear(), 4)}-${figures(now.getMonth() + 1, 2)}-${figures(now.getDate(), 2)}`;
}

/** What follows the # in the address. */
export function useHash(): string {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const look = () => setHash(location.hash);
    addEventListener("hashchange", look);
    return () => removeEventListener("hashchange", look);
  }, []);
  return hash;
}

/** The verdicts in the order of the cases; one after the other, so that a phone can be used meanwhile. */
export function useVerdicts(data: PageData, cases: readonly CircuitCase[]): readonly VerdictOnCircuit[] {
  const [judged, setJudged] = useState<{ of: typeof cases; verdicts: readonly VerdictOnCircuit[] }>({
    of: cases,
    verdicts: [],
  });
  const verdicts = judged.of === cases ? judged.verdicts : [];
  useEffect(() => {
    const next = cases[verdicts.length];
    if (next === undefined) return undefined;
    const timer = setTimeout(() => setJudged({ of: cases, verdicts: [...verdicts, judgeOn(data, next)] }));
    return () => clearTimeout(timer);
  }, [data, cases, verdicts.length]);
  return verdicts;
}

/** A value once it has rested for a moment: judging waits until a person has typed. */
export function useRested<T>(value: T, milliseconds = 200): T {
  const [rested, setRested] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setRested(value), milliseconds);
    return () => clearTimeout(timer);
  }, [value, milliseconds]);
  return rested;
}
