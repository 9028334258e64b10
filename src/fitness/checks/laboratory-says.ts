import { badStatement, leavesWords, type ReportText, type Sample } from "../../samples/index.js";
import type { Assessed, Finding } from "../assessed.js";
import type { Evidence } from "../evidence/evidence.js";
import { QUANTITIES, type Quantity } from "../quantities.js";
import { type Reason, reason } from "../reasons.js";

/**
 * What the laboratory itself says of the bottles: the people who measured one may know what no number shows.
 *
 * A rejection stops the hookup until a person has looked, a doubt asks for one. Where a result is outside its limit and the
 * laboratory says no more than that, its words go with the verdict that the result calls for, and are answered when a later
 * bottle was measured. That a laboratory is content is never a reason for anything: its limits are not those of the requirement.
 *
 * @param assessedIn - what the results of one bottle came to
 */
export function checkLaboratory(
  evidence: Evidence,
  assessedIn: (sample: Sample) => readonly (Assessed & { readonly isLatest: boolean })[],
): Finding {
  const reasons = evidence.looked.flatMap((sample) => {
    const bad = (sample.laboratorySays ?? []).flatMap((said) => {
      const statement = badStatement(said.column, said.text);
      return statement === undefined ? [] : [{ said, statement }];
    });
    if (bad.length === 0) return [];
    const assessed = assessedIn(sample);
    const named = (some: typeof assessed) => some.map(({ quantity }) => quantity);
    const outside = assessed.filter(({ outcome }) => outcome === "outside");
    const answered = assessed.filter(({ isLatest, outcome }) => !isLatest && outcome !== "not-measured");
    return bad.flatMap(({ said, statement }) => {
      const isAnswered =
        namesOnly(said.text, named(answered)) ||
        (isExplainedBy(said.text, named(outside)) && outside.every(({ isLatest }) => !isLatest));
      return isAnswered ? [] : [reasonFor(sample.sample, said, statement, named(outside))];
    });
  });
  return { reasons };
}

function reasonFor(
  sample: string,
  said: ReportText,
  statement: "rejects" | "doubts",
  outside: readonly Quantity[],
): Reason {
  const quoted = `of sample ${sample} the laboratory says ${quote(said)}`;
  if (isExplainedBy(said.text, outside))
    return reason(
      "laboratory-agrees",
      `${quoted}, as do the results that are outside: ${outside.join(", ")}`,
    );
  return statement === "rejects"
    ? reason("laboratory-rejects", `${quoted}; ask the laboratory what is wrong before anything else is done`)
    : reason(
        "laboratory-doubts",
        `${quoted}; have a person read it and ask the laboratory, or draw a new sample`,
      );
}

function quote({ column, text }: ReportText): string {
  return `"${text}" in column "${column}"`;
}

/** Words of a statement that says no more than that results are outside, without accents. Common practice, no source. */
const PLAIN_VERDICT = wordsOf(
  "fail(?:s|ed)? reject(?:ed)? abnormal critical alarm alert caution warning red amber yellow severe marginal " +
    "unsat(?:isfactory)? not ok nok acceptable unacceptable out of outside over above exceeds? exceeded limits? " +
    "spec(?:ification)? the is are for due to on too high elevated result test sample status f x no level levels count " +
    "counts content and " +
    "nicht bestanden nio auffallig uberschritten grenzwerte? grenze ausser(?:halb)? uber zu hoch erhoht der die des ist und " +
    "non conformes? hors limites? rejetee? refusee? anormale? depassement depassee? trop elevee? de du la les est et " +
    "apto fuera rechazad[oa] excede elevad[oa] los el en y fuori limit[ei] respint[oa] elevat[oa] troppo il di " +
    "afgekeurd buiten limiet(?:en)? te hoog nao fora reprovad[oa] dos do",
);

/** Names by which a laboratory calls a result; what is not here it calls by its own name. */
const CALLED: Partial<Record<(typeof QUANTITIES)[Quantity]["result"], RegExp>> = {
  particles: wordsOf(
    "particles? particulates? cleanliness contaminat(?:ion|ed) iso nas as code class dirty " +
      "partikel(?:zahl)? reinheitsklasse klasse particules? classe particulas? clase particelle deeltjes",
  ),
  water: wordsOf("water moisture saturation ppm wet h2o kf wasser(?:gehalt)? eau teneur en agua acqua"),
  "acid number": wordsOf(
    "acid acidity number tan an neutrali[sz]ation saurezahl acide indice acidez acidita",
  ),
  "viscosity at 40 °C": wordsOf("viscosity at c viskositat viscosite viscosidad viscosita viscositeit"),
};

function wordsOf(list: string): RegExp {
  return new RegExp(`\\b(?:${list.replaceAll(" ", "|")})\\b`, "g");
}

/** Whether every word of a statement is a plain verdict or the name of a quantity that is outside. */
function isExplainedBy(text: string, outside: readonly Quantity[]): boolean {
  return outside.length > 0 && isSaidOf(text, outside);
}

/** Whether a statement is about some quantities by name, and about nothing else. */
function namesOnly(text: string, quantities: readonly Quantity[]): boolean {
  return isSaidOf(text, quantities) && !isSaidOf(text, []);
}

function isSaidOf(text: string, outside: readonly Quantity[]): boolean {
  const names = outside.flatMap((quantity) => CALLED[QUANTITIES[quantity].result] ?? []);
  const others = outside.map((name) => new RegExp(`\\b${name.replace(/[^\p{L}\p{N} ]/gu, ".")}\\b`, "gu"));
  const plain = text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  let left = plain.replace(PLAIN_VERDICT, " ");
  for (const name of [...names, ...others]) left = left.replace(name, " ");
  return !/[\p{L}✗✘❌⛔⚠]/u.test(left);
}

/**
 * What else the report says of a sample, for a person to read with the verdict: texts that decided nothing.
 *
 * @returns in one line, such as `Remarks "sampled at 40 °C"`; undefined when it says nothing else
 */
export function describeOtherTexts({ laboratorySays = [], otherTexts = [] }: Sample): string | undefined {
  const byColumn = new Map<string, string[]>();
  for (const said of [
    ...laboratorySays.filter(({ column, text }) => badStatement(column, text) === undefined),
    ...otherTexts,
  ]) {
    byColumn.set(said.column, [...(byColumn.get(said.column) ?? []), `"${short(said.text)}"`]);
  }
  if (byColumn.size === 0) return undefined;
  const said = [...byColumn].map(([column, texts]) => `${column || "without a title"} ${texts.join(", ")}`);
  const more = said.length - MAX_COLUMNS_SHOWN;
  return said.slice(0, MAX_COLUMNS_SHOWN).join("; ") + (more > 0 ? `; and ${more} columns more` : "");
}

/**
 * What the laboratory wrote of a sample that no rule understands, to be read with the verdict "fit".
 *
 * @returns one sentence without full stop; nothing where all is understood
 */
export function describeRemarksToRead({ sample, laboratorySays = [] }: Sample): string[] {
  const left = laboratorySays.filter(({ column, text }) => leavesWords(column, text));
  if (left.length === 0) return [];
  const more = left.length - MAX_REMARKS_SHOWN;
  const quoted = left.slice(0, MAX_REMARKS_SHOWN).map(({ text }) => `"${short(text)}"`);
  return [
    `read what the laboratory wrote of sample ${sample}: ${quoted.join(", ")}${more > 0 ? ` and ${more} more` : ""}`,
  ];
}

/** Up to this many remarks, columns, and characters of a text, are shown with a verdict; the sample holds all of them. */
const MAX_REMARKS_SHOWN = 2;
const MAX_COLUMNS_SHOWN = 12;
const MAX_SHOWN = 120;

function short(text: string): string {
  return text.length > MAX_SHOWN ? `${text.slice(0, MAX_SHOWN)}…` : text;
}
