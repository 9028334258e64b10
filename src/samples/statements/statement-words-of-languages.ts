import { words } from "./words.js";
import type { StatementWords } from "./words-of-language.js";

// An "ü" is read as "u" and may be written "ue": "ue?berschritten".

const GERMAN_LIMITS =
  "(\\p{L}*toleranz\\p{L}*|spezifikation\\p{L}*|spec|\\p{L}*grenzwert\\p{L}*|grenzen?|normen?|vorgaben?|limits?|sollbereich\\p{L}*)";

export const GERMAN: StatementWords = {
  language: "German",
  rejecting: words`
    durchgefallen, abgelehnt, ablehnen, verworfen, verwerfen, gesperrt, sperren, sperre, zurue?ckgewiesen,
    unzulae?ssig, nio, ungeeignet, unbrauchbar, untauglich, ausschuss, ausgesondert, aussondern,
    ausgemustert, entsorgen, entsorgt, ungenue?gend,
    nicht (mehr )?(zu )?(ver|be)?(wenden|nutzen|nue?tzen),
    nicht (mehr )?(ein|an)(setzen|schliessen),
    nicht (mehr )?(verwendbar|brauchbar|einsatzfae?hig|betreiben), unbefriedigend`,
  doubting: words`
    auffae?llig~, ue?berschritten, ue?berschreit~, verunreinig~, verschmutz~,
    schmutzig~, kontaminier~, beanstand~, abweichung~, anormal~,
    ausser(halb)? ((der|des|dem|von) )?${GERMAN_LIMITS},
    (ue?ber|oberhalb) ((der|des|dem|den) )?${GERMAN_LIMITS}`,
  doubtingInRemarks: words`
    bedenklich, kritisch~, warnung, achtung, vorsicht, mangelhaft, schlecht~, erhoe?ht~,
    zu (hoch|hohe~|viel~|niedrig|alt|dunkel|nass|feucht|warm),
    (oe?l|filter|fluid|flue?ssigkeits)wechsel (erforderlich|noe?tig|notwendig|empfohlen|fae?llig),
    spue?len, nachprobe~, (neue|weitere|zweite) probe, probe (wiederholen|unbrauchbar),
    wiederholen, wiederholungsprobe, dringend, sofort~, verdacht~, fraglich,
    bitte (prue?fen|kontrollieren), undicht, leckage, gemischt, vermischt, mischung, falsch~,
    freies wasser, wasser (sichtbar|vorhanden|gefunden|am boden|im \p{L}+), true?b~, milchig~,
    ~spae?ne, ~abrieb, ablagerung~, nicht reprae?sentativ, vorlae?ufig~,
    ausstehend, verbrannt, gealtert, verdue?nnt~, unleserlich~, verwechsel~, geschae?tzt~`,
  sound: words`
    bestanden, in ordnung, io, ob, ohne befund, unauffae?llig~, unbedenklich, unkritisch, zulae?ssig,
    konform, einwandfrei, freigegeben, gut, gute[rsn]?, sauber, eingehalten, geeignet, tauglich, akzeptabel,
    angenommen, genehmigt, entspricht, erfue?llt, innerhalb ((der|des|von) )?${GERMAN_LIMITS},
    im (normalbereich|sollbereich|rahmen)`,
  denying: ["nicht", "kein", "keine[nrsm]?", "ohne", "nie"],
  between: words`
    mehr, die, der, das, des, dem, den, ist, sind, wurden?, werte?, grenzwerte?, sichtbare[nrs]?,
    weitere[nrs]?, besondere[nrs]?`,
  noneOfIt: ["nein", "keine[nrs]?"],
  verdictTitles: ["bewertung", "beurteilung", "befund", "ergebnis", "gesamtergebnis", "zustand"],
};

const FRENCH_LIMITS = "(limites?|specifications?|spec|tolerances?|normes?|seuils?|maxim\\p{L}*)";

export const FRENCH: StatementWords = {
  language: "French",
  rejecting: words`
    refusee?s?, rejete~, rejet, rebut~, echec, inacceptables?, inaptes?, inutilisables?,
    ne pas (utiliser|employer|connecter|brancher|raccorder|mettre|livrer),
    ne (doit|doivent|peut|peuvent) pas, insatisfaisante?s?`,
  doubting: words`
    caduque?s?, nulle?s? et non avenue?s?, invalides?, anormale?s?, anomalies?, hors (de )?(la |les )?${FRENCH_LIMITS}, depassements?,
    depasse(e|s|es|nt|r)?, contaminee?s?, contamination, polluee?s?, pollution, souillee?s?,
    (au dessus|superieure?s?) (de|du|des|a|au|aux) (la |les )?${FRENCH_LIMITS}`,
  doubtingInRemarks: words`
    critiques?, alerte, alarme, attention, avertissement, mauvaise?s?, insuffisante?s?, trop \p{L}+,
    elevee?s?, a (surveiller|verifier|vidanger|changer|remplacer|filtrer|refaire|jeter), vidanger,
    vidange (necessaire|recommandee|requise|conseillee|a faire),
    reechantillon~,
    nouvel echantillon, nouveau prelevement, suspecte?s?, douteu(x|se)s?, degradee?s?, sales?,
    melangee?s?, melange, fuites?, eau (libre|visible|presente), presence d(e|u|es)? \p{L}+, troubles?,
    laiteu(x|se), non representati~, provisoire, en attente, urgente, dangereu(x|se), diluee?s?, dilution, illisibles?, estimee?s?`,
  sound: words`
    conformes?, conformite, satisfaisante?s?, acceptee?s?, acceptables?, aptes?, bon(ne)?s?, correcte?s?,
    dans (la |les )${FRENCH_LIMITS}, rien a signaler, ras, normale?s?, convient`,
  denying: ["pas", "aucune?", "sans"],
  between: ["d", "de", "du", "des", "la", "le", "les", "est", "sont", "ete"],
  noneOfIt: ["non", "aucune?", "neant"],
  verdictTitles: ["statut", "avis", "appreciation", "etat"],
};

const SPANISH_LIMITS = "(limites?|especificacion(es)?|rango|tolerancias?|normas?|maximos?|valores)";

export const SPANISH: StatementWords = {
  language: "Spanish",
  rejecting: words`
    rechaz(ad[oa]s?|ar|o), desech(ad[oa]s?|ar|o), descart(ad[oa]s?|ar), fallo, fallid~,
    inaceptables?, inservibles?, inutilizables?, suspens[oa]s?, reprobad~, desaprobad~,
    no (se )?(debe )?(usar|utilizar|emplear|conectar|poner)(se)?`,
  doubting: words`
    sin efecto, fuera de (los |las |la |el )?${SPANISH_LIMITS}, exced~, anomal[oa]s?, anomalias?, anormal(es)?,
    contaminad~, contaminacion, suci[oa]s?, suciedad,
    super(a|an|ad[oa]s?|ior(es)?)( a| al)? (el |los |la )?${SPANISH_LIMITS},
    (por )?encima (de|del) (los |la )?${SPANISH_LIMITS}`,
  doubtingInRemarks: words`
    critic[oa]s?, alerta, alarma, precaucion, atencion, advertencia, mal[oa]?s?, elevad~,
    demasiad~, (muy|valor(es)?|nivel(es)?) alt[oa]s?, vigilar,
    cambio de (aceite|fluido|filtro) (necesario|recomendado|requerido), repetir, nueva muestra,
    remuestre~, dudos[oa]s?, sospechos[oa]s?, degradad~, mezcl~, fugas?,
    agua (libre|visible|presente), presencia de \p{L}+, turbi[oa]s?, lechos[oa]s?, no representativ[oa]s?,
    provisional, pendiente, urgente, peligros[oa]s?, diluid~, dilucion, ilegible, estimad~`,
  sound: words`
    conformes?, apt[oa]s?, aceptables?, aprobad~, correct[oa]s?, cumplen?, buen[oa]?s?, bien,
    dentro de (los |las |la |el )?${SPANISH_LIMITS}, sin novedad, satisfactori[oa]s?, normales,
    idone[oa]s?`,
  denying: ["sin", "ningun", "ninguna", "ninguno"],
  between: ["de", "es", "son", "se", "el", "la", "los", "las", "ha", "han", "esta"],
  noneOfIt: ["ningun[oa]?", "ningunas"],
  verdictTitles: ["evaluacion", "estado", "dictamen", "resultado", "conclusion"],
};

const ITALIAN_LIMITS = "(limit[ei]|specific(a|he)|tolleranz[ae]|norma|range)";

export const ITALIAN: StatementWords = {
  language: "Italian",
  rejecting: words`
    scart(o|are|at[oaie]), respint[oaie], rifiutat~, bocciat~, inaccettabil[ei],
    inutilizzabil[ei], non (usare|utilizzare|impiegare|collegare|connettere), da (eliminare|smaltire)`,
  doubting: words`
    fuori (dal |dai |dalla |dalle )?${ITALIAN_LIMITS}, superat~, superamento, anomal[oaie],
    superano? (il |i |le |la )?${ITALIAN_LIMITS}, anomali[ae], contaminat~, contaminazione,
    inquinat~, sporc(o|a|hi|he)`,
  doubtingInRemarks: words`
    allarme, attenzione, avvertenza, elevat~, tropp[oaie], scadent[ei], insufficient[ei],
    da (sostituire|cambiare|filtrare|ripetere|verificare|controllare|monitorare), ricampion~,
    nuovo campione, ripetere,
    dubbi[oa], sospett[oaie], degradat~, miscel~, perdit[ae], torbid~, lattiginos[oa],
    acqua (libera|visibile|presente), presenza di \p{L}+, non rappresentativ[oa], provvisori[oa],
    pericolos[oa], diluit~, diluizione, illeggibil[ei], stimat~`,
  sound: words`
    conform[ei], idone[oaie], accettabil[ei], accettat~, (nella|a) norma, regolar[ei], buon[oaie]?,
    entro (i |il |le |la )?${ITALIAN_LIMITS}, approvat~, nulla da segnalare, in ordine, va bene`,
  denying: ["nessun", "nessuna", "nessuno", "senza"],
  between: ["di", "del", "della", "e", "sono", "stat[oaie]"],
  noneOfIt: ["nessun[oa]?"],
  verdictTitles: ["valutazione", "esito", "giudizio", "risultato", "stato"],
};

const DUTCH_LIMITS = "(limiet(en)?|specificaties?|spec|toleranties?|norm(en)?|grens|grenzen|grenswaarden?)";

export const DUTCH: StatementWords = {
  language: "Dutch",
  rejecting: words`
    afgekeurd, afkeur(en)?, geweigerd, verworpen, onaanvaardbaar, onbruikbaar, ongeschikt, onvoldoende,
    niet (meer )?(gebruiken|aansluiten|inzetten|koppelen|vrijgeven|bruikbaar)`,
  doubting: words`
    (buiten|boven) (de )?${DUTCH_LIMITS}, overschr~, vervuil~, verontreinig~,
    afwijk~, abnorma~, vervallen`,
  doubtingInRemarks: words`
    kritiek, waarschuwing, let op, slecht, vuile?, te (hoog|hoge|veel|vuil|laag|nat|oud), verhoogd~,
    verversen, vervangen,
    nieuw monster, herbemonster~, opnieuw, verdacht~, twijfelachtig, vrij water,
    water (zichtbaar|aanwezig), troebel, melkachtig, lekt, lekkage, gemengd, voorlopig, gevaar~,
    niet representatief, verdund~, onleesbaar, geschat~`,
  sound: words`
    goedgekeurd, akkoord, in orde, goed, binnen (de )?${DUTCH_LIMITS}, voldoet, voldoende, geschikt,
    normaal, geen bijzonderheden`,
  denying: ["niet", "geen", "zonder"],
  between: ["de", "het", "een", "zijn"],
  noneOfIt: ["nee", "geen"],
  verdictTitles: ["beoordeling", "oordeel", "resultaat"],
};

const PORTUGUESE_LIMITS = "(limites?|especificac(ao|oes)|tolerancias?|normas?|faixa|maximos?)";

export const PORTUGUESE: StatementWords = {
  language: "Portuguese",
  rejecting: words`
    reprovad~, rejeitad~, recusad~, inaceitave(l|is), inutilizave(l|is), refugo, sucata,
    nao (usar|utilizar|conectar|ligar)`,
  doubting: words`
    fora d(e|os?|as?) ${PORTUGUESE_LIMITS}, acima d(e|os?|as?) ${PORTUGUESE_LIMITS}, anomalia,
    contaminacao, suj[oa]s?, ultrapass~`,
  doubtingInRemarks: words`
    atencao, aviso, ruim, nova amostra, duvidos[oa], mistura~,
    vazamento, agua (livre|visivel), turv[oa]s?, perigos[oa],
    diluid~, diluicao, ilegivel, estimad~`,
  sound: words`
    aprovad~, aceitave(l|is), bom, boa, dentro d(e|os?|as?) ${PORTUGUESE_LIMITS}`,
  denying: ["nao", "sem", "nenhum", "nenhuma"],
  between: ["do", "da", "dos", "das", "foi", "esta"],
  noneOfIt: ["nenhuma?"],
  verdictTitles: ["avaliacao", "situacao", "parecer"],
};

/** The word by which a sample is turned away in some more languages, in the scripts they are written in. */
export const ELSEWHERE: StatementWords = {
  language: "others",
  rejecting: words`
    underkan[dt], underkjent, kasser(t|et|ad|as), hylatty, hylkays, odrzucon[oaey], zamitnut[oaey],
    vyrazen[oaey]?, reddedildi, брак, забракован~, негоден, не годен, 不合格, 不良, 不可, 불합격`,
  doubting: ["作废", "作廢", "无效", "無効", "取消", "무효", "취소", "аннулирован\\p{L}*", "anulowan\\p{L}*"],
  doubtingInRemarks: [],
  sound: ["godkan[dt]", "godkjent", "hyvaksytty", "годен", "норма", "合格", "합격"],
  denying: ["inte", "ikke", "nie", "не"],
  between: [],
  noneOfIt: [],
  verdictTitles: ["判定", "结论", "заключение", "vurdering", "bedomning", "ocena"],
};
