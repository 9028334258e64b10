import { words } from "./words.js";

/**
 * What is said where a result is not to be relied on: a thing (a report, a bottle, a sample, the counter) is in a bad state, or
 * not in a good one. In every language at once, in lower case, without accents; common practice, no source. A new word goes
 * into the list of its kind, and is then known of every thing and on either side of it.
 *
 * Unlike words about the fluid, these mean the same wherever a report has them: in remarks, in any other column, in a line
 * around the table.
 */

const any = (list: readonly string[]) => `(${list.join("|")})`;

/** What is written of a report on other terms: "not valid without signature". */
const ON_TERMS = "(?! (without|unless|if|when|before|after|until|ohne|wenn|sans|sin|senza|zonder|sem))";

/** What is not this report or sample: "previous reports are superseded", "invoice cancelled". */
const OF_ANOTHER =
  "(?<!\\b((previous|earlier|former|older) \\p{L}+|invoice|order|appointment)( (is|are|was|were))? )";

/** What a laboratory gives of a sample. */
export const RESULT = any(words`
  r[ei]sult~, reports?, rapport~, val(ue|eur|or)[eis]*, numbers, figures, count(s|ing)?, tests?, origin[ae]~, repeatability, da(t[aoi]s?|ten|dos), anal[yi]s[ei]s?,
  measurements?, m[ei]sur[ae]s?, determinations?, certificates?, particles, class(es)?, replicates?, duplicates?, water contents?, ergebnis(se)?, (prue?f|labor|mess|untersuchungs)?berichte?[ns]?,
  (mess)?werte?, messung(en)?, zae?hlung(en)?, zahlen, prue?fung(en)?, doppelbestimmung(en)?, wassergehalt, sae?urezahl, comptages?, donnees, chiffres, e(s|n)sa[iy]o?s?,
  teneurs? en eau, informes?, recuentos?, cifras, contenido de agua, conteggio?, prov[ae], contenuto d acqua, waarden, meting(en)?, telling(en)?, gegevens,
  proe(f|ven), watergehalte, relatorios?, contage(m|ns), teor de agua`);

/** What a sample comes in. */
export const BOTTLE = any(words`
  bottles?, parcels?, seals?, containers?, vials?, jars?, caps?, lids?, labels?, (proben?)?(flaschen?|gefae?sse?), deckel, eti[qck][ueh]?[et]~, flacon~, bouteilles?,
  bouchons?, botellas?, frascos?, envases?, tapon(es)?, bottigli[ae], tapp[oi], contenitor[ei], (monster|sample)?fles(sen)?, dop(pen)?, garrafas?, tampas?, rotulos?`);

export const SAMPLE = any(words`
  samples?, sampling, (oe?l|fluid)?proben?, probe(n?ent)?nahme, echantillon~, prelevements?, muestr[aeo]+s?, campion[ei]~, campionamento, monster(s|name)?, amostra~, colheita`);

/** What results are measured by, and what it is checked with. */
export const COUNTER = any(words`
  (particle )?counters?, (counting )?instrument, sensore?s?, laser, blanks?, titrat(or|ion)s?, syringes?, glassware, meters?, reagents?, calibra[tzc]i?[oa]~,
  (quality )?control( sample| standard)?, q[ac]( sample| standard| check)?, check (sample|standard), coincidence( limit| level)?,
  (partikel)?zae?hler, messgerae?t, kalibr~, kontrollprobe, (blind|leer)(wert|probe), compteur, appareil, etalonnage, capteur, b[lr]?i?an[ck]o?,
  contador, contatore, strumento, taratura, (deeltjes)?teller`);

const THING = any([RESULT, BOTTLE, SAMPLE, COUNTER]);

/** Words that turn round what follows. */
const NOT = "(not|never|nicht|wenig|non|pas|peu|no|poco|niet|weinig|nao|pouco)";

/** What turns a sentence round, joins another to it, or says it of some cases only. */
const TURNS = words`
  not, no, non, never, without, none, nor, free, nicht, keine?[nrsm]?, ohne, pas, sans, aucune?, ni, sin, ningun[oa]?, senza,
  nessun[oa]?, niet, geen, zonder, nao, sem, nenhuma?, and, or, but, und, oder, et, ou, y, e, en, that, which, who, if, when,
  where, unless, for, to, qui, que, che, welche, will, would, shall, should, must, may(?! have),
  can, werden, wird, kann, koe?nnen, sollen, mue?ssen, peu(t|vent), doi(t|vent), pueden?, deben?, puo, possono, devono,
  kan, kunnen, mag, mogen, moet(en)?, podem?, devem?`;
/** A word between a thing and what is said of it. */
export const FILL = `(?!${any(TURNS)} )[\\p{L}\\p{N}]+[:,]? `;
export const SAID_OF = `( ?[:,] ?| )(${FILL}){0,5}`;

/** A report or a sample that its laboratory has taken back. A bottle is withdrawn too: that says where it was drawn. */
export const TAKEN_BACK = words`
  ${OF_ANOTHER}cancell?ed(?! and replaced by (this|the present)), cancellation, retracted, revoked, rescinded, annulled, nullified,
  ${OF_ANOTHER}superseded, disregard(ed)?, void(ed)?(?! (volume|fraction|content))${ON_TERMS},
  invalid(ated)?${ON_TERMS}, (not|no longer) valid${ON_TERMS},
  ${RESULT}( (was|were|is|are|has|have|been))* withdrawn,
  withdrawn by (the )?lab~, withdrawn from (service|use), (?<!date )withdrawn$,
  ungue?ltig~${ON_TERMS}, ongeldig~${ON_TERMS}, zurue?ckgezogen~, storniert~, widerrufen~, ann?ull?(ee?s?|iert|ad|at)~, geannuleerd~, ingetrokken, cancelad~,
  invalid[oaei]s?${ON_TERMS}`;

export const NOT_FINAL = words`
  preliminar(y|ily)(?! (flush|clean|filt|heat|run|circul|rins|purg)~), provisional(ly|es)?,
  interim (reports?|results?|data|values), draft (reports?|results?|versions?|copy|copies|data|only|not|certificate), draft(?= ?([:,]|$)),
  vorlae?ufig~, zwischen(bericht|ergebnis)~, (bericht)?entwurf, preliminaires?, provisoires?, brouillon,
  preliminar(es|i)?, borrador, provvisori[oaie]?, bozza, voorlopig~, concept ?(rapport|versie|resultaten)~,
  (?<=^|: )concept$, rascunho, (for )?training (only|purposes), not for (release|certification|flight|service),
  (?<!limits? )for information only, nur zur information, (pending|awaiting|under) (\p{L}+ )?(review|approval|validation|verification|confirmation|release|investigation|revision),
  to be (confirmed|validated|verified|reviewed), tbc, in (ue?ber)?prue?fung, in klae?rung,
  (en (cours|attente)|pend[ie]+ntes?|in attesa) d[ei] (conf[ei]rm|valid|veri?fi|revis)~, (a|da|por) (conf[ei]rm|valid|verifi)[aei]re?, nog te bevestigen, in afwachting van \p{L}+, (review|approval|validation|verification|confirmation|signature) (is )?(pending|outstanding|awaited), un(verified|validated|reviewed|confirmed|approved|released)`;

/** What becomes of a report before it counts. */
const SETTLED = words`
  (ge)?valid(?!at?[cz]?i?o)~, (ge)?verifi(?!cat?i?o|cac)~, reviewed, released, authori[sz]ed, finali[sz]ed, freigegeben~, vrijgegeven`;
/** The good state of a thing, by stems that languages share: it is only looked for after what turns it round. */
const GOOD = any([
  ...SETTLED,
  ...words`
    app?ro[buv]~, conf[ei]rm(?!at?[cz]?i?o)~, (double )?checked, (ge)?[cz]ertifi(?!cate|kat)~, final, reliable, trustworthy, plausib~, valid, usable,
    [ck]orr(ec|ek|et)t?(?!ed|ion)~, accurate, agree, match, repeat, reprodu[cz]i?~, repeatable, complet~, finished, capped, dry, (ge)?[ck]ontrol~,
    geprue?ft~, bestae?tigt~, endgue?ltig~, gue?ltig~, belastbar, verlae?sslich, verwertbar, richtig, vollstae?ndig~, sicher, definiti~, fiable?s?, fiaveis, valables?,
    exploitable?s?, conformes?, adapte~, revisad~, comproba~, coincid~, concord~, ad[ae][ct]t?[ou]?ad~, adatt~, attendibil~,
    goedgekeurd, bevestigd, geldig, betrouwbaar~, juist~, geschikt~, volledig~, overeen, conferid~`,
  // Of a bottle or a counter.
  ...words`
    (ultra ?|pre ?)?clean(ed)?, rinsed, intact, legible, sealed, closed, tight, suitable, labell?ed, sauber~, rein, gereinigd?t?~,
    (according|in accordance|normgerecht|nach norm), dicht~, verschlossen, beschriftet~, r(ap|e)prae?e?senta~, representat~, geeignet~, propres?, nettoye~, etanches?, fermee?s?,
    eti[qu]+et~, limpi?[oa]s?, cerrad~, identificad~, pulit~, chius~, schoon, gesloten, fechad~, rotulad~, (ge)?[ck]alibr(?!at?i)~, etalonnee?, tarat[oa]`,
]);

/** The bad state of a thing, before or after it: a good one turned round by a syllable, and words of their own. */
const BAD = any([
  `(un|in|im|il|on)${GOOD}${ON_TERMS}`,
  ...words`
    d(oub|ub)[ti](?!less)~, douteu~, dudos~, duvidos~, questionable, suspect, suspicious, wrong, erron~, errad~, errat~, faulty, [fv]erfae?lscht~, fals(ch|if|at|[oa])~, fauss~, faux,
    distorted, inconclusive, uncertain(?!t), inci?ert~, e?stima(te)?(d|t[oaie])~, estimates?, estimee?s?, approximate, guess(ed|es)?, assumed, typed from, extrapolated, placeholders?,
    affected, unofficial, informal, aborted, interr[ou][mpt]~, lost, perd[ui]~, carried over, frozen, congel~, gelee?s?, fouled, washed off, under reserve, unter vorbehalt, sous reserve,
    con (reserva|riserva), onder voorbehoud, (dummy|demo|made up|simulated|not real|fake|invented), fi[ck]t[ic]~, broken?(?! down), cracked, damaged, mixed up, swapped, interchanged,
    mis ?labell?ed, unmarked, unreadable, leak(s|ed|ing|y)?(?! (check|test)s?),
    fraglich~, zweifelhaft~, fehlerhaft~, geschae?tzt~, abgetippt, abgebrochen~, unterbrochen~, verloren~, eingefroren~, ausgelaufen~, zerbrochen~, beschae?digt~,
    vertauscht~, verwechselt~, unleserlich~, sujett?e?s? a caution, egare~, casse~, brise~, endommage~, fui(t|ent)?, fuyai~, souille~, intervert~, illisibles?,
    extraviad~, rot[oa]s?, rompieron, danad~, intercambiad~, confundid~, ilegi~, dubbi[oae]?, smarrit~, pers[oaie], rott[aeio], danneggiat~, scambiat~, illeggibil~,
    twijfelachtig~, onzeker~, overgetypt, fout~, geschat~, afgebroken, zoekgeraakt, bevroren, gebroken, kapotte?, beschadigde?, lek(ten?|ken(de)?)?, gelekt, verwisselde?, onleesba~,
    quebrad~, partid~, danificad~, trocad~, vazaram`,
]);
/** What is said of results after them: two of them differ, or they may still change. */
const DIFFER = any(words`
  differs?(?! from (those|that) of (an)?other), differed, disagree[sd]?, scatter(s|ed)?, subject to (change|revision|confirmation|correction|review|amendment|approval),
  weich(t|en)(?! (\p{L}+ )?nicht), stimm(t|en) nicht, streu(t|en)(?! nicht), concord\p{L}+ pas, different (de|d un), divergent, difieren?, discrepan~, differisc~, discordan~,
  wijk(t|en)(?! niet), verschillen(?! niet), difere[m]?, diverge[m]?`);
/** What is said of a bottle after it; before it the words may mean another thing: "empty bottles are sent on request". */
const SPOILED = any(words`
  (no|without( an?)?|missing( a)?|ohne|sans|sin|senza|zonder|sem) (caps?|lids?|seals?|labels?|deckel|bouchon|tapon|tappo|dop|tampa|rotulo|eti[qck]~), open, opened by, overfilled,
  reused, used before, loose, residues?, exposed to, dirty, empty, half (empty|full), wet, insufficient, too (small|little|old|full), offen, locker, schmutzig, leer, sales?, vides?,
  ouvert~, mal serre~, suci[oa]s?, floj[oa]s?, va[cz]i[oa]s?, abiert~, sporc(o|a|hi|he), vuot[aeio], lent[oaie], apert~, vuil, los, leeg, suj[oa]s?, solt[oa]s?, abert~`);
/** What is said of a counter after it. */
const OUT_OF_ORDER = any(words`
  not (passed|measured|counted|run), failed, fails, exhausted, (too|muito|demasiado) (high|alto), due for calibration, def[ae][ck]t?~, malfunction~, not working, out of \p{L}+,
  uncalibrated, expir(ed|ee?|ad[oa]), overdue, lapsed, exceeded, blocked, clogged, dirty, overloaded, satur~, weak, unstable, drift(s|ed|ing)?, pending, gestoe?rt, ausgefallen,
  abgelaufen, ue?berfae?llig, ue?berschritten, ue?berlastet, verstop~, en panne, defaillant, perimee?, depassee?, sales?, encrassee?, bouchee?, averiado, descalibrado, vencid[oa],
  caducad[oa], sin calibrar, os?b?stru~, guasto, scadut[oa], senza taratura, verlopen, avariado, entupido`);

/** How a bottle is filled. */
const DRAWN =
  "(sampled|drawn|taken|gezogen|entnommen|preleve\\p{L}*|tomad\\p{L}+|prelevat\\p{L}+|genomen|colhid\\p{L}+)";
const MONTHS =
  "(months?|years?|monaten?|jahren?|mois|ans|annees?|mes(es)?|anos?|mes[ei]|ann[oi]|maand(en)?|ja?ar(en)?)";
export const WAS =
  "(was|were|had|been|wurden?|waren?|war|ont ete|a ete|etaient|etait|estuv\\p{L}+|estaban?|fueron|fue|stat[oaie]|erano?|zijn|foram|foi|estiveram|estavam?)";
const KEPT =
  "(stored|kept|held|old|aged|gelagert|aufbewahrt|alt|conserv\\p{L}+|stocke\\p{L}*|almacenad\\p{L}+|guardad\\p{L}+|immagazzinat\\p{L}+|bewaard|opgeslagen|oud|armazenad\\p{L}+)";
/** A sample that is no longer what was drawn. "Samples are kept for 3 months" says what becomes of it later. */
const STORED = [
  `(${SAMPLE}|${BOTTLE}) (\\p{L}+ )?${WAS} ((?!every )[\\p{L}\\p{N}]+ ){0,3}(${KEPT} ([\\p{L}\\p{N}]+ ){0,3}${MONTHS}|${MONTHS} (\\p{L}+ )?${KEPT})`,
  `(${SAMPLE}|${BOTTLE}) (\\p{L}+ )?(older|aelter|alter|ouder) (than|als|dan) [\\p{L}\\p{N}]+ ${MONTHS}`,
];

/** Solids, and water, that somebody found in bottles. */
const MATTER =
  "(chips|flakes|slivers|shavings|swarf|filings|debris|rust|sludge|sediment|grit|\\p{L}*spae?ne|rost|schlamm|bodensatz|copeaux|limaille|rouille|boues?|virutas|limaduras|lodo|sedimentos?|trucioli|limatura|ruggine|morchia|\\p{L}*spanen|roest|slib|bezinksel|limalhas?|aparas|ferrugem|(rain )?water|regen|(regen)?wasser|eau|agua|acqua)";
const IN = "(in|into|at|on|entered|im|am|dans|au|en|nei|nelle|nel|em|nos?|nas?)";
const FOUND = `(metal(lic)? )?${MATTER} (${FILL}){0,2}${IN} (${FILL}){0,5}?(${BOTTLE}|${SAMPLE})(?! by)`;

const ANOTHER =
  "(new|fresh|another|further|repeat|second|replacement|neue[ns]?|weitere|nouve(l|aux?)|nuev[oa]s?|nuov[oi]|nieuwe?|novas?)";
/** What is drawn or measured once more; "further samples" is a title as well. */
export const REPEATED = any(words`
  re ?sampl(e|es|ing), re ?tests?, re ?testing, repeat (counts?|analysis|tests?), wiederholung~, nachproben?, reechantillonn\p{L}+,
  remuestre\p{L}+, ricampiona\p{L}+, herbemonster\p{L}+, reamostra\p{L}+`);
const AGAIN = any([`${ANOTHER} ${SAMPLE}`, REPEATED]);
const NEEDED = any(words`
  required, needed, necessary, requested, recommended, advised, erforderlich, noe?tig, notwendig, empfohlen, einsenden, schicken, entnehmen,
  necessaires?, requis, recommande~, demande~, a faire, necesari[oa]s?, requerid~, recomendad~, necessari[oa]?s?, richiest[oi], consigliat[oi],
  nodig, vereist, aanbevolen`);
/** What a person asks for who does not rely on a sample. */
const REPEAT = [
  `${AGAIN} (${FILL}){0,2}${NEEDED}(?! every)`,
  `(send|submit|provide)( us)? (an? )?${ANOTHER} ${SAMPLE}`,
  `(repeat|redo|retake) ((the|all|this|these|your) )*(${SAMPLE}|tests?|counts?|analys[ei]s|measurements?)`,
  `${SAMPLE} (${FILL}){0,2}wiederholen`,
  ...words`
    (must|has to|have to|should|needs? to) be (repeated|retaken|resampled|redone), a refaire, repetir (el |la |a |o )?(muestreo|toma|analisis|colheita|amostragem|analise),
    da ripetere, opnieuw bemonsteren`,
];
/** What a person writes who would not act on results. */
const NO_RELIANCE = [
  `(ignore|doubt|not (trust|believe))( (these|this|the|all))* ${RESULT}`,
  "(not|can not|never) (to )?(rely|act|be relied) (on|upon)",
  `(could|can) not (be )?(verify|verified|confirm|confirmed|reproduced?|measured|determined|counted)( (these|this|the))?( ${RESULT})?`,
  `${RESULT} (\\p{L}+ ){0,4}with (\\p{L}+ )?(caution|care|reservations?)`,
  ...words`treat(ed)? with caution, cross contamination between samples, water ingress, condensation in`,
];
const MISTAKEN = [
  "(report|entry|typing|copying) (contains |has )?(an? )?(errors?|mistakes?)",
  ...words`errors? in (this|the) report, fehler im bericht, erratum, errata, corrigendum`,
  "((sample|cart|bottle) numbers?|identity|assignment|origin|dates?|zuordnung|herkunft)( (of|der|des|of the) \\p{L}+)? (\\p{L}+ ){0,2}(assumed|estimated|guessed|uncertain|unclear|unknown|not certain|not clear|wrong|unklar|unsicher|fraglich)",
  "(labels?|eti[qck]\\p{L}*|rotulos?) (\\p{L}+ ){0,1}(missing|lost|fell off|fehl\\p{L}*|manqu\\p{L}*|perdu\\p{L}*|perdid\\p{L}*|manca\\p{L}*|ontbrek\\p{L}*|em falta)",
  "falta[nm] (\\p{L}+ )?etiquetas?",
];
/** What flows is sampled, and what stood still shows nothing of the circuit. */
const NOT_FLOWING = [
  "not (running|circulating|flowing|operating|flushed)( (when|while|during|at|before))? (\\p{L}+ )?(sampl\\p{L}*|drawn|drawing)",
  `${SAMPLE} (${FILL}){0,3}(without (flushing|circulation)|from (the |a )?(stationary|standing|stagnant))`,
  "sampling (valve|port) (\\p{L}+ )?not flushed",
  "(pump|circulation|flow|pumpe|zirkulation|umlauf|pompe|bomba|pompa|pomp) (was |were |war |lief |stond )?(off|stopped|aus|nicht|arretee|parada|ferma|stil)(?! (after|nach))",
];

/** Where a bottle shows what has settled, or another fluid. */
const OTHER_PLACE = any(words`
  (from|of) ((the|a|an|new|tank|reservoir) )*(drain|(low point|bottom)(?! of (the )?bottle)|dead end|filter bowl|drum|barrel|can), aus (dem |einem )?(~ablass~|fass|filtertopf),
  (a|de) la purge, (d une?|du) (vidange|fut|bidon), de(l| la| un) (purga|drenaje|desague|bidon), da(l|llo) (scarico|drenaggio|fusto), uit (de |het )?(aftap~|vat),
  (do|no) (dreno|tambor)`);

/** See above; each is a piece of a regular expression that stands for whole words. */
export const UNRELIABLE: readonly string[] = [
  any(TAKEN_BACK),
  any(NOT_FINAL),
  `${NOT} (yet |been |noch |encore |aun |todavia |ancora |nog |ainda |fully ){0,2}${any(SETTLED)}${ON_TERMS}(?! by (the )?lab)`,
  `${THING}${SAID_OF}(${BAD}|${NOT} (${FILL}){0,2}${GOOD}${ON_TERMS})`,
  `${BAD} (sample )?(${RESULT}|${BOTTLE}|${SAMPLE})`,
  `${NOT} (${FILL}){0,1}${GOOD} (${RESULT}|${BOTTLE}|${SAMPLE})`,
  `${RESULT}${SAID_OF}${DIFFER}`,
  `(${BOTTLE}|${SAMPLE})${SAID_OF}${SPOILED}`,
  `${COUNTER}${SAID_OF}${OUT_OF_ORDER}`,
  `${RESULT} (${FILL}){0,3}(withdrawn|retiree?s?|retirad[oa]s?|ritirat[oaie]|ingetrokken|zurue?ckgezogen\\p{L}*)`,
  `(final|new|corrected|revised|amended|neue[rs]?|korrigierte[rs]?|endgue?ltige[rs]?) ${RESULT} (${FILL}|will ){0,2}(follows?|folgt|folgen)`,
  `${RESULT} (definiti\\p{L}*|corrig\\p{L}*) (${FILL}){0,1}((a |va |vont )?suiv\\p{L}+|segu\\p{L}+|seguono|volgt|volgen)`,
  `(insufficient|too little|not enough) (sample|fluid|volume|oil)`,
  any(STORED),
  FOUND,
  any(REPEAT),
  any(NO_RELIANCE),
  any(MISTAKEN),
  any(NOT_FLOWING),
  "out of calibration",
  "wrong calibration",
  "(air bubbles|luftblasen|bulles d air|burbujas|bolle d aria|luchtbellen|bolhas)(?! (were |was )?(removed|entfernt))",
  `air in (the )?${COUNTER}`,
  "(specimen|muster|beispiel|voorbeeld) ?(reports?|bericht|daten|gegevens)",
  "test data only",
  "(training|example) (data|results?|samples?|values?|reports?)",
  "dati di prova",
  `(${SAMPLE}|${DRAWN}) (${FILL}){0,2}${OTHER_PLACE}`,
];
