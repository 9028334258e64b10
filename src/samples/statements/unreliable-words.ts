import { words } from "./words.js";

/**
 * What is said where a result is not to be relied on: the report is not final or was taken back, the bottle was spoiled, the
 * counter was not in order. In every language at once, in lower case, without accents; common practice, no source.
 *
 * Unlike words about the fluid, these mean the same wherever a report has them: in remarks, in any other column, in a line
 * around the table.
 */

const any = (list: readonly string[]) => `(?:${list.join("|")})`;

/** What is written of a report on other terms: "not valid without signature". */
const ON_TERMS = "(?! (?:without|unless|if|when|before|after|until|ohne|wenn|sans|sin|senza|zonder|sem))";

/** What is not this report or sample: "previous reports are superseded", "invoice cancelled". */
const OF_ANOTHER =
  "(?<!\\b(?:(?:previous|earlier|former|older) \\p{L}+|invoice|order|appointment)(?: (?:is|are|was|were))? )";

/** What a laboratory gives of a sample. */
export const RESULT = any(words`
  results?, reports?, values?, counts?, data, analys[ei]s, measurements?, certificates?, ergebnis(?:se)?,
  (?:prue?f|labor|mess|untersuchungs)?berichte?[ns]?, (?:mess)?werte?, messung(?:en)?, zae?hlung(?:en)?, resultate?[ns]?, resultats?, rapports?,
  valeurs?, mesures?, comptages?, donnees, resultados?, informes?, valores, recuentos?, datos, risultat[oi],
  rapporto, valori, misur[ae], conteggi, dati, analisi, waarden, meting(?:en)?, telling(?:en)?, resultaat,
  relatorios?, contage(?:m|ns), dados, analises?`);

/** What a sample comes in. */
export const BOTTLE = any(words`
  bottles?, parcels?, seals?, containers?, vials?, jars?, caps?, lids?, labels?, (?:proben?)?flaschen?, (?:proben?)?gefae?sse?, deckel, etiketten?,
  flacons?, bouteilles?, bouchons?, etiquettes?, botellas?, frascos?, envases?, tapon(?:es)?, etiquetas?,
  bottigli[ae], flacon[ei], tapp[oi], contenitor[ei], etichett[ae], (?:monster|sample)?fles(?:sen)?, dop(?:pen)?, etiket,
  garrafas?, tampas?, rotulos?`);

export const SAMPLE = any(words`
  samples?, sampling, (?:oe?l|fluid)?proben?, probe(?:n?ent)?nahme, echantillons?, prelevements?, muestras?, muestreo, campion[ei], campionamento, monsters?,
  monstername, amostras?, amostragem, colheita`);

/** Words that turn round what follows. */
const NOT = "(?:not|never|nicht|non|pas|no|niet|nao)";

/** What turns a sentence round, joins another to it, or says it of some cases only. */
const TURNS = words`
  not, no, non, never, without, none, nor, free, nicht, keine?[nrsm]?, ohne, pas, sans, aucune?, ni, sin, ningun[oa]?, senza,
  nessun[oa]?, niet, geen, zonder, nao, sem, nenhuma?, and, or, but, und, oder, et, ou, y, e, en, that, which, who, if, when,
  where, unless, with, for, to, mit, avec, con, met, com, qui, que, che, welche, will, would, shall, should, must, may(?! have),
  can, werden, wird, kann, koe?nnen, sollen, mue?ssen, peu(?:t|vent), doi(?:t|vent), pueden?, deben?, puo, possono, devono,
  kan, kunnen, mag, mogen, moet(?:en)?, podem?, devem?`;
/** A word between a thing and what is said of it. */
export const FILL = `(?!${any(TURNS)} )[\\p{L}\\p{N}]+:? `;
export const SAID_OF = `(?: ?[:,] ?| )(?:${FILL}){0,5}`;

/** A report or a sample that its laboratory has taken back. A bottle is withdrawn too: that says where it was drawn. */
export const TAKEN_BACK = words`
  ${OF_ANOTHER}cancell?ed(?! and replaced by (?:this|the present)), cancellation, retracted, revoked, rescinded, annulled, nullified,
  ${OF_ANOTHER}superseded, disregard(?:ed)?, void(?:ed)?(?! (?:volume|fraction|content))${ON_TERMS},
  invalid(?:ated)?${ON_TERMS}, (?:not|no longer) valid${ON_TERMS},
  ${RESULT}(?: (?:was|were|is|are|has|have|been))* withdrawn,
  withdrawn by (?:the )?lab\p{L}*, withdrawn from (?:service|use), (?<!date )withdrawn$`;

export const NOT_FINAL = words`
  preliminar(?:y|ily)(?! (?:flush|clean|filt|heat|run|circul|rins|purg)\p{L}*), provisional(?:ly|es)?,
  interim (?:reports?|results?|data|values), draft (?:reports?|results?|versions?|copy|copies|data|only|not|certificate), draft(?= ?(?:[:,]|$)),
  vorlae?ufig\p{L}*, zwischen(?:bericht|ergebnis)\p{L}*, (?:bericht)?entwurf, preliminaires?, provisoires?, brouillon,
  preliminar(?:es|i)?, borrador, provvisori[oaie]?, bozza, voorlopig\p{L}*, concept ?(?:rapport|versie|resultaten)\p{L}*,
  (?<=^|: )concept$, rascunho, final (?:reports?|results?) (?:will )?follows?, not for (?:release|certification|flight|service),
  (?<!limits? )for information only, nur zur information, (?:pending|awaiting|under) (?:\p{L}+ )?(?:review|approval|validation|verification|confirmation|release|investigation|revision),
  in (?:ue?ber)?prue?fung, in klae?rung, en cours de (?:validation|verification), en attente de (?:validation|verification|confirmation),
  pendientes? de (?:validacion|confirmacion|revision), in attesa di (?:conferma|validazione|verifica),
  in afwachting van \p{L}+, pendentes? de (?:validacao|confirmacao), un(?:verified|validated|reviewed|confirmed|approved|released)`;

/** What becomes of a report before it counts. */
const SETTLED = words`
  validated, verified, reviewed, released, authori[sz]ed, finali[sz]ed, freigegeben, validiert, verifiziert, valide\p{L}*,
  verifie\p{L}*, validad[oa]s?, verificad[oa]s?, validat[oaie], verificat[oaie], gevalideerd, geverifieerd, vrijgegeven`;
const RELIABLE = any([
  ...SETTLED,
  ...words`
    approved, confirmed, checked, final, reliable, trustworthy, plausible, valid, usable, geprue?ft, bestae?tigt, endgue?ltig, gue?ltig, plausibel,
    belastbar, verlae?sslich, approuve\p{L}*, confirme\p{L}*, definiti\p{L}*, fiables?, valables?, revisad[oa]s?,
    aprobad[oa]s?, confirmad[oa]s?, valid[oai]s?, approvat[oaie], confermat[oaie], attendibil[ei], gecontroleerd,
    goedgekeurd, bevestigd, definitief, geldig, betrouwbaar, aprovad[oa]s?, fiave(?:l|is)`,
]);
const WRONG = any(words`
  unreliable, doubtful, questionable, dubious, suspect, suspicious, wrong, incorrect, erroneous, faulty, falsified, distorted,
  implausible, inconclusive, uncertain, approximate, estimated, guessed, fraglich\p{L}*, zweifelhaft\p{L}*, unsicher\p{L}*,
  affected, unofficial, informal, falsch\p{L}*, fehlerhaft\p{L}*, verfae?lscht\p{L}*, unplausib\p{L}*, geschae?tzt\p{L}*, douteu\p{L}*, faux, fauss\p{L}*,
  errone\p{L}*, incertaine?s?, estimee?s?, dudos[oa]s?, fals[oa]s?, inciert[oa]s?, estimad[oa]s?, dubbi[oae]?,
  errat[oaie], falsat[oaie], incert[oaie], stimat[oaie], twijfelachtig\p{L}*, onbetrouwba\p{L}*, onjuist\p{L}*,
  fout\p{L}*, geschat\p{L}*, duvidos[oa]s?, errad[oa]s?, unter vorbehalt, sous reserve, con (?:reserva|riserva),
  onder voorbehoud, subject to (?:change|revision|confirmation|correction|review|amendment|approval)`);

/** A bottle whose results say nothing of the circuit. */
const SPOILED = any(words`
  leak(?:s|ed|ing|y)?, broken?, cracked, damaged, unsealed, unclean, mixed up, swapped, interchanged, mis ?labell?ed, unlabell?ed, unmarked,
  illegible, unreadable, unsuitable, wrong, undicht\p{L}*, ausgelaufen\p{L}*, zerbrochen\p{L}*, beschae?digt\p{L}*, unsauber\p{L}*,
  vertauscht\p{L}*, verwechselt\p{L}*, unbeschriftet\p{L}*, unleserlich\p{L}*, ungeeignet\p{L}*, casse\p{L}*, brise\p{L}*,
  endommage\p{L}*, fui(?:t|ent)?, fuyai\p{L}*, souille\p{L}*, interverti\p{L}*, inadapte\p{L}*, illisibles?, rot[oa]s?, rompieron, danad[oa]s?,
  intercambiad[oa]s?, confundid[oa]s?, inadecuad[oa]s?, ilegibles?, rott[aeio], danneggiat[aeio], scambiat[aeio], inadatt[aeio],
  illeggibil[ei], gebroken, kapotte?, beschadigde?, lek(?:ten?|ken(?:de)?)?, gelekt, verwisselde?, ongeschikte?, onleesba\p{L}*, quebrad[oa]s?, partid[oa]s?,
  danificad[oa]s?, trocad[oa]s?, vazaram, inadequad[oa]s?, ilegive(?:l|is)`);
/** What is said of a bottle after it; before it the words may mean another thing: "empty bottles are sent on request". */
const SPOILED_AFTER = any(words`
  open, opened by, overfilled, reused, used before, loose, residues?, exposed to, dirty, empty, half (?:empty|full), wet, insufficient, too (?:small|little|old|full), (?:without|no) labels?, missing (?:a )?labels?, offen, schmutzig, leer, ohne etikett\p{L}*, sales?, vides?,
  ouvertes?, ouverts?, sans etiquettes?, suci[oa]s?, vaci[oa]s?, abiert[oa]s?, sin etiqueta\p{L}*, sporc(?:o|a|hi|he), vuot[aeio], apert[aeio], senza etichett\p{L}*, vuil, leeg, zonder etiket\p{L}*, suj[oa]s?,
  vazi[oa]s?, abert[oa]s?, sem (?:rotulo|etiqueta)\p{L}*`);
const CLEAN = any(words`
  (?:ultra ?|pre ?)?clean(?:ed)?, rinsed, intact, legible, sealed, closed, tight, representative, suitable, labell?ed, sauber, rein, gereinigt\p{L}*,
  (?:according|in accordance|normgerecht|nach norm), dicht, verschlossen, beschriftet, reprae?sentativ, geeignet, propres?, nettoye\p{L}*, etanches?, fermee?s?, etiquetee?s?, representati\p{L}*,
  limpi?[oa]s?, cerrad[oa]s?, etiquetad[oa]s?, identificad[oa]s?, pulit[aeio], chius[aeio], rappresentativ[aeio], schoon,
  gereinigd, gesloten, representatief, fechad[oa]s?, rotulad[oa]s?`);

const ANOTHER =
  "(?:new|fresh|another|further|repeat|second|replacement|neue[ns]?|weitere|nouve(?:l|aux?)|nuev[oa]s?|nuov[oi]|nieuwe?|novas?)";
const AGAIN = any([
  `${ANOTHER} ${SAMPLE}`,
  ...words`
    re ?sampling, re ?samples?, re ?tests?, re ?testing, repeat (?:counts?|analysis|tests?), wiederholung\p{L}*, nachproben?, reechantillonnage,
    remuestreo, ricampionamento, herbemonstering`,
]);
const NEEDED = any(words`
  required, needed, necessary, requested, recommended, advised, erforderlich, noe?tig, notwendig, empfohlen, einsenden, schicken, entnehmen,
  necessaires?, requis, recommande\p{L}*, demande\p{L}*, a faire, necesari[oa]s?, requerid[oa]s?, recomendad[oa]s?, necessari[oa]?s?, richiest[oi], consigliat[oi],
  nodig, vereist, aanbevolen`);
/** What a person asks for who does not rely on a sample. */
const REPEAT = [
  `${AGAIN} (?:${FILL}){0,2}${NEEDED}(?! every)`,
  `(?:send|submit|provide)(?: us)? (?:an? )?${ANOTHER} ${SAMPLE}`,
  `(?:repeat|redo|retake) (?:(?:the|all|this|these|your) )*(?:${SAMPLE}|tests?|counts?|analys[ei]s|measurements?)`,
  `${SAMPLE} (?:${FILL}){0,2}wiederholen`,
  ...words`
    (?:must|has to|have to|should|needs? to) be (?:repeated|retaken|resampled|redone), a refaire, repetir (?:el |la |a |o )?(?:muestreo|toma|analisis|colheita|amostragem|analise),
    da ripetere, opnieuw bemonsteren`,
];
/** What a person writes who would not act on results. */
const NO_RELIANCE = [
  `(?:ignore|doubt)(?: (?:these|this|the|all))* ${RESULT}`,
  "(?:not|can not|never) (?:to )?(?:rely|act|be relied) (?:on|upon)",
  `(?:could|can) not (?:be )?(?:verify|verified|confirm|confirmed|reproduced?)(?: (?:these|this|the))?(?: ${RESULT})?`,
  `${RESULT} (?:\\p{L}+ ){0,4}with (?:\\p{L}+ )?(?:caution|care|reservations?)`,
  ...words`treat(?:ed)? with caution, cross contamination between samples, water ingress, condensation in`,
];
const MISTAKEN = [
  "(?:report|entry|typing|copying) (?:contains |has )?(?:an? )?(?:errors?|mistakes?)",
  ...words`errors? in (?:this|the) report, fehler im bericht, erratum, errata, corrigendum`,
  "(?:(?:sample|cart|bottle) numbers?|identity|assignment|origin|dates?|zuordnung|herkunft)(?: (?:of|der|des|of the) \\p{L}+)? (?:\\p{L}+ ){0,2}(?:assumed|estimated|guessed|uncertain|unclear|unknown|not certain|not clear|wrong|unklar|unsicher|fraglich)",
  "(?:labels?|etiketten?|etiquettes?|etiquetas?|etichett[ae]|etiket|rotulos?) (?:\\p{L}+ ){0,1}(?:missing|lost|fell off|fehl\\p{L}*|manqu\\p{L}*|perdu\\p{L}*|perdid\\p{L}*|manca\\p{L}*|ontbrek\\p{L}*|em falta)",
  "falta[nm] (?:\\p{L}+ )?etiquetas?",
];
/** What flows is sampled, and what stood still shows nothing of the circuit. */
const NOT_FLOWING = [
  "not (?:running|circulating|flowing|operating|flushed)(?: (?:when|while|during|at|before))? (?:\\p{L}+ )?(?:sampl\\p{L}*|drawn|drawing)",
  `${SAMPLE} (?:${FILL}){0,3}(?:without (?:flushing|circulation)|from (?:the |a )?(?:stationary|standing|stagnant))`,
  "sampling (?:valve|port) (?:\\p{L}+ )?not flushed",
];

const COUNTER = any(words`
  (?:particle )?counters?, counting instrument, instrument, sensor, blank, titrator, calibration, (?:quality )?control(?: sample| standard)?, q[ac](?: sample| standard| check)?, check (?:sample|standard),
  coincidence(?: limit| level)?, (?:partikel)?zae?hler, messgerae?t, kalibrierung, kontrollprobe, compteur, appareil, etalonnage, contador, calibracion,
  contatore, strumento, taratura, calibrazione, deeltjesteller, kalibratie, calibracao`);
const OUT_OF_ORDER = any(words`
  not passed, failed, fails, wrong, faulty, too high, due for calibration, defective, malfunction\p{L}*, not working, out of \p{L}+, uncalibrated, expired, overdue, lapsed, exceeded, defekt, gestoe?rt,
  ausgefallen, abgelaufen, ue?berschritten, en panne, defaillant, expiree?, perimee?, averiado, descalibrado, vencid[oa], caducad[oa], expirad[oa], sin calibrar, guasto, scadut[oa],
  senza taratura, defect, verlopen, avariado`);
const CALIBRATED = any(words`
  calibrated, kalibriert, etalonnee?, calibree?, calibrad[oa], tarat[oa], calibrat[oa], gekalibreerd`);

/** See above; each is a piece of a regular expression that stands for whole words. */
export const UNRELIABLE: readonly string[] = [
  any(TAKEN_BACK),
  any(NOT_FINAL),
  `${NOT} (?:yet |been |noch |encore |aun |todavia |ancora |nog |ainda |fully ){0,2}${any(SETTLED)}(?! by (?:the )?lab)`,
  `${RESULT}${SAID_OF}(?:${WRONG}(?! uncertaint)|${NOT} (?:${FILL}){0,2}${RELIABLE}${ON_TERMS})`,
  `${WRONG} ${RESULT}`,
  `(?:new|corrected|revised|amended|neue[rs]?|korrigierte[rs]?|endgue?ltige[rs]?) ${RESULT} (?:${FILL}|will ){0,2}(?:follows?|folgt|folgen)`,
  `${RESULT} (?:definiti\\p{L}*|corrig\\p{L}*) (?:${FILL}){0,1}(?:suivra|suivront|seguira\\p{L}*|segue|seguono|volgt|volgen)`,
  `(?:${BOTTLE}|${SAMPLE})${SAID_OF}(?:${SPOILED}|${SPOILED_AFTER}|${NOT} (?:${FILL}){0,2}${CLEAN})`,
  `${SPOILED} (?:sample )?${BOTTLE}`,
  `${NOT} (?:ultra ?)?(?:clean|representative|reprae?sentativ\\p{L}*) (?:${BOTTLE}|${SAMPLE})`,
  `(?:insufficient|too little|not enough) (?:sample|fluid|volume|oil)`,
  any(REPEAT),
  any(NO_RELIANCE),
  any(MISTAKEN),
  any(NOT_FLOWING),
  `${COUNTER}${SAID_OF}(?:${OUT_OF_ORDER}|${NOT} (?:${FILL}){0,2}${CALIBRATED})`,
  "out of calibration",
  "wrong calibration",
  "(?:air bubbles|luftblasen|bulles d air|burbujas|bolle d aria|luchtbellen|bolhas)(?! (?:were |was )?(?:removed|entfernt))",
  "(?:dummy|fictitious|made up|simulated|not real|fake|training|example) (?:data|results?|samples?|values?|reports?)",
  "(?:specimen|muster) ?(?:reports?|bericht)",
  `${SAMPLE} (?:${FILL}){0,2}(?:from|of) (?:the |a )?(?:new )?(?:drain|dead end|filter bowl|drum|barrel|can)`,
];
