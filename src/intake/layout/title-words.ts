import { NOT_OF_THE_SAMPLE } from "../../cleanliness/index.js";

/** Words in the title of a result that change nothing about it, in the languages that are known. */
const HARMLESS = new Set(
  [
    "particle particles particulate count counts counted counting counter number numbers no nr num n p pc pcs part parts cnt of the per size sizes",
    "larger greater bigger more than above over exceeding or equal and at in by on with for from between cumulative cum total",
    "concentration conc result results reading value values measured measurement measurements data automatic auto optical laser",
    "apc opc lpc analysis contamination contaminants solid fluid oil hydraulic sample mean average avg method test determination",
    "unit units diameter channel lab laboratory content amount",
    "titration potentiometric coulometric volumetric icp oes aes rde xrf kf karl fischer karlfischer",
    "partikel partikelzahl partikelanzahl partikelgröße partikelkonzentration partikelzählung teilchen teilchenzahl anzahl anz zahl der die nach gemäß coulometrisch",
    "über ab von zwischen und größer grösser groesser gleich als größe je pro kumulativ konzentration messwert ergebnis wert gehalt probe öl",
    "particule particules nombre nb nbre de des du la le les l d par taille supérieur supérieure supérieurs supérieures grande grandes grand grands à",
    "que et ou égal égale égales comptage cumulé cumulés cumulée cumulées valeur résultat teneur huile entre selon coulométrique",
    "partícula partículas particulas número numero por tamaño mayor mayores superior superiores a o y igual iguales conteo recuento",
    "concentración acumulado acumulados acumulada valor resultado contenido en",
    "particella particelle di maggiore maggiori superiori dimensione dimensioni conteggio cumulativo concentrazione uguale e tra fra da",
    "deeltje deeltjes aantal groter dan grootte gelijk aan telling deeltjestelling van tussen",
    "maior maiores contagem tamanho acumulados concentração entre",
  ].flatMap((line) => line.split(" ")),
);

/** A column of these is no result of the sample, whatever else is named: a limit, an earlier result, a scatter. */
const NOT_A_RESULT = new RegExp(
  `${NOT_OF_THE_SAMPLE.source}|deviation|abweichung|[eé]carts?\\b|desviaci|\\bdifference|differenz|` +
    "δ|\\bdelta|\\bchange|increase|decrease|zunahme|anstieg|änderung|uncertaint|unsicherheit|incertitude|\\bstd\\b|\\bs\\.?d\\b|\\brsd\\b|\\berror|tol[eé]ran|" +
    "\\bmin\\b|minimum|detection|\\blo[dq]\\b|hist[oó]r|(?:%|per ?cent) of",
  "u",
);

/** Marks that may be in a title without changing what it means. */
const MARKS = /[\s()[\],;:.#*_"'’/|&>≥=+-]+/u;

/** Whether a title or the group above it says that what it holds is no result of the sample. */
export function isNotAResult(text: string): boolean {
  return NOT_A_RESULT.test(text.toLowerCase());
}

/** What is in the place of a number of a sample where a row holds a mean, a limit or a blank (common practice, no source). */
const NO_SAMPLE =
  /^(?:mean|average|avg|median|sum|total|mittel(?:wert)?|moyenne|media|gemiddelde|limit|grenzwert|blank|blindwert|leerwert)(?!\p{L})\D*\d*$/u;
/** With a figure after it the same word may be a number of a sample: "Max-2", "QC-17". */
const NO_SAMPLE_ALONE =
  /^(?:target|goal|previous|baseline|reference|max(?:imum)?|min(?:imum)?|alarm|warning|control|standard|std|qc)(?!\p{L})\D*$/u;
const MAX_NAME_LENGTH = 100;

/** Whether a row is named like a mean, a limit, a blank or a control, and not like a sample of a circuit. */
export function namesNoSample(name: string): boolean {
  const plain = name.length > MAX_NAME_LENGTH ? "" : name.toLowerCase();
  return NO_SAMPLE.test(plain) || NO_SAMPLE_ALONE.test(plain);
}

/** The words of a title that are left over and may change what it means. */
export function notHarmless(rest: string): string[] {
  return rest.split(MARKS).filter((word) => word !== "" && !HARMLESS.has(word));
}
