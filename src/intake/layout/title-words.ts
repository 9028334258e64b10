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
    "partikel partikelzahl partikelanzahl partikelgröße partikelkonzentration partikelzählung teilchen teilchenzahl anzahl anz zahl der die",
    "über ab von zwischen und größer grösser groesser gleich als größe je pro kumulativ konzentration messwert ergebnis wert gehalt probe öl",
    "particule particules nombre nb nbre de des du la le les l d par taille supérieur supérieure supérieurs supérieures grande grandes grand grands à",
    "que et ou égal égale égales comptage cumulé cumulés cumulée cumulées valeur résultat teneur huile entre",
    "partícula partículas particulas número numero por tamaño mayor mayores superior superiores a o y igual iguales conteo recuento",
    "concentración acumulado acumulados acumulada valor resultado contenido en",
    "particella particelle di maggiore maggiori superiori dimensione dimensioni conteggio cumulativo concentrazione uguale e tra fra da",
    "deeltje deeltjes aantal groter dan grootte gelijk aan telling deeltjestelling van tussen",
    "maior maiores contagem tamanho acumulados concentração entre",
  ].flatMap((line) => line.split(" ")),
);

/** A column of these is no result of the sample, whatever is named beside: a limit, an earlier result, a scatter. */
const NOT_A_RESULT = new RegExp(
  `${NOT_OF_THE_SAMPLE.source}|alarm|alert|warn|deviation|abweichung|écart|desviaci|\\bdifference|differenz|` +
    "δ|\\bdelta|\\bchange|increase|decrease|zunahme|uncertaint|unsicherheit|incertitude|\\bstd\\b|\\bs\\.?d\\b|\\brsd\\b|\\berror|toleran|referen|" +
    "\\bneu|\\bmin\\b|minimum|detection|\\blo[dq]\\b|vorher|anterior|précédent|precedente|vorige|histor|" +
    "(?:%|per ?cent) of|límite|seuil|umbral|soglia",
  "u",
);

/** Marks that may stand in a title without changing what it means. */
const MARKS = /[\s()[\],;:.#*_"'’/|&>≥=+-]+/u;

/** Whether a title or the group above it says that what it holds is no result of the sample. */
export function isNotAResult(text: string): boolean {
  return NOT_A_RESULT.test(text.toLowerCase());
}

/** The words of a title that are left over and may change what it means. */
export function notHarmless(rest: string): string[] {
  return rest.split(MARKS).filter((word) => word !== "" && !HARMLESS.has(word));
}
