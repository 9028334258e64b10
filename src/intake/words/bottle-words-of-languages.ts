import { words } from "../../samples/index.js";
import { type BottleWords, ENGLISH_BOTTLE_WORDS } from "./bottle-words.js";

/** The most usual words in German, French, Spanish, Italian, Dutch and Portuguese (common practice, no source). */
const OTHER_BOTTLE_WORDS: BottleWords = {
  samplePoints: {
    "main-flow-line": words`
      druckleitung, rücklauf, rücklaufleitung, hauptleitung, conduite de pression, refoulement,
      conduite de retour, retour, línea de presión, linea de presion, línea de retorno, linea de retorno,
      linea di mandata, mandata, linea di ritorno, ritorno, persleiding, retourleiding, linha de pressão,
      linha de retorno`,
    "upstream-of-element": words`
      vor filter, vor dem filter, filtereingang, filtereintritt, avant filtre, avant le filtre,
      amont du filtre, entrée filtre, entrée du filtre, antes del filtro, antes do filtro,
      entrada del filtro, prima del filtro, monte del filtro, voor filter, voor het filter, före filter,
      före filtret`,
    "downstream-of-element": words`
      nach filter, nach dem filter, filterausgang, filteraustritt, après filtre, après le filtre,
      aval du filtre, sortie filtre, sortie du filtre, después del filtro, despues del filtro,
      depois do filtro, salida del filtro, dopo il filtro, valle del filtro, na filter, na het filter,
      efter filter, efter filtret`,
    reservoir: ["behälter", "réservoir", "depósito", "deposito", "tanque", "serbatoio", "reservatório"],
    drain: words`
      ablass, ablasshahn, ablassventil, ablassschraube, vidange, robinet de vidange, drenaje, scarico,
      spurgo, aftap, aftapkraan, dreno`,
    "filter-bowl": ["filtergehäuse", "filtertopf", "filterglocke", "bol du filtre", "vaso del filtro"],
    "dead-end": ["blindleitung", "totleitung"],
    "supply-container": words`
      fass, kanister, eimer, frischöl, neuöl, fût, bidon, huile neuve, bidón, barril, aceite nuevo, fusto,
      tanica, olio nuovo, vat, jerrycan, nieuwe olie, tambor, galão`,
  },
  things: {
    cloudy: ["trübung", "émulsion", "emulsión", "emulsione", "emulsie"],
    "two-layers": words`
      zwei phasen, zwei schichten, phasentrennung, deux phases, deux couches, dos fases, due fasi,
      due strati, twee lagen, duas fases`,
    "free-water": words`
      wasser, freies wasser, wassertropfen, eau, eau libre, agua, agua libre, acqua, acqua libera,
      vrij water, água, água livre`,
    "particles-seen": words`
      partikel, teilchen, späne, metallspäne, bodensatz, ablagerungen, schmutz, particules, dépôt, dépôts,
      impuretés, partículas, sedimento, sedimentos, impurezas, particelle, deposito sul fondo, impurità,
      deeltjes, bezinksel`,
  },
  looks: {
    clear: words`
      klar, hell, blank, durchsichtig, limpide, clair, claire, brillant, brillante, claro, clara, límpido,
      límpida, limpido, limpida, chiaro, transparente, trasparente, helder`,
    cloudy: words`
      trüb, trübe, trueb, milchig, trouble, laiteux, turbio, turbia, lechoso, torbido, torbida, lattiginoso,
      troebel, melkachtig, turvo`,
    "nothing-seen": words`
      unauffällig, sauber, in ordnung, ohne befund, propre, conforme, limpio, pulito, schoon, in orde, ras,
      rien à signaler, sin novedad, nulla da segnalare`,
  },
  flowing: {
    yes: ["ja", "oui", "si", "sí", "sim", "laufend", "in betrieb", "en marche", "en marcha", "in funzione"],
    no: words`
      nein, non, nee, não, aus, stillstand, abgeschaltet, stehend, arrêt, arrêté, parado, parada, fermo,
      spento, stilstand`,
  },
  // Colours by their names are known to `readColour` of the fluids in every language.
  colours: [],
  shades: words`
    hell, hellen, dunkel, foncé, pâle, oscuro, scuro, donker, licht, escuro, blass`,
  scales: ["farbe", "couleur", "colore", "kleur"],
  onlyDenied: ["auffälligkeiten", "anomalie", "anomalies", "anomalías", "luftblasen", "bulles", "burbujas"],
  harmless: {
    look: words`
      und, et, e, en, der, die, das, ist, öl, probe, am, boden, im, glas, sichtbar, la, le, les, est, huile,
      au, fond, visible, visibles, el, los, las, aceite, fondo, olio, il, sul, de, di, du, sehr, leicht,
      très, muy, molto, sichtbare, sichtbares, visibile, visibili, zichtbaar`,
    place: ["der", "die", "am", "an", "im", "la", "le", "de", "du", "au", "del", "el", "en", "dal", "della"],
    flow: [],
  },
  denying: words`
    kein, keine, keinen, ohne, nicht, sans, aucune, aucun, sin, senza, geen, zonder, sem`,
  denyingBehind: ["keine", "keines", "aucune", "aucun", "ninguna", "nessuna", "geen"],
  or: ["oder", "noch", "ou", "ni", "o", "né", "of noch"],
  and: ["und", "mit", "et", "avec", "con", "mais", "aber", "pero"],
};

/** The words of every language that is known. */
export const BOTTLE_WORDS: readonly BottleWords[] = [ENGLISH_BOTTLE_WORDS, OTHER_BOTTLE_WORDS];
