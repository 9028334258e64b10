import {
  DUTCH,
  ELSEWHERE,
  FRENCH,
  GERMAN,
  ITALIAN,
  PORTUGUESE,
  SPANISH,
} from "./statement-words-of-languages.js";
import { NOT_FINAL, RESULT, SAMPLE, TAKEN_BACK, WAS } from "./unreliable-words.js";
import { words } from "./words.js";
import type { StatementWords } from "./words-of-language.js";

const LIMITS =
  "(limits?|spec|specs|specifications?|tolerances?|range|bounds|maximum|max|allowable|requirements?)";
const CHANGED = "(chang|replac|clean|flush|drain|filter|purif|circulat|repair|investigat|re ?sampl|re ?test)";

const REPLACES =
  "(replaces|supersedes|superseding|cancels( and replaces)?|annule et remplace|anula y (sustituye|reemplaza)|annulla e sostituisce|vervangt|ersetzt)";

const CHANGED_ELSEWHERE =
  "(gewechselt|getauscht|ausgetauscht|ersetzt|erneuert|abgelassen|gespue?lt|gefiltert|remplac|chang|vidang|filtr|nettoy|rinc|sustitu|reemplaz|cambi|drena|sostitu|vervang|ververs|gespoeld|substitu|troca)";
/** An order to do something to the fluid, in every language; not one that is given by the calendar. */
export const MUST_BE_CHANGED = [
  "(change|replace|exchange|drain|purify|dewater) (the )?(oil|fluid|filters?|elements?)(?!( \\p{L}+)? every)",
  "(oe?l|fluid|flue?ssigkeit|filter|element|vloeistof|olie) (\\p{L}+ )?(wechseln|tauschen|austauschen|erneuern|ablassen|verversen|vervangen|wisselen)",
  "(changer|remplacer|vidanger|cambiar|sustituir|reemplazar|drenar|sostituire|cambiare|trocar|substituir) (l |le |la |el |il |o |a )?(huile|fluide|filtre|aceite|fluido|filtro|elemento?|olio|oleo)",

  `(must|should|shall|has to|have to|ought to) be (\\p{L}+ )?${CHANGED}\\p{L}*(?!( \\p{L}+)? every)`,
  `(muss|mue?ssen|sollten?|moet(en)?|dient|doi(t|vent) etre|deb(en|e)( ser)?|dev(e|ono) (essere|ser)|devem ser) (?!nicht |niet )(\\p{L}+ )?${CHANGED_ELSEWHERE}\\p{L}*(?! (alle|tous|cada|ogni|elke))`,
];

const ACCOUNTED = "corrected|multiplied|adjusted|accounted|compensated|allowed";

/** As complete as could be thought of. */
const ENGLISH: StatementWords = {
  language: "English",
  rejecting: words`
    fail(s|ed|ing)? to \p{L}+, fail(?! safe), failed, fails, failing, reject, rej, rejected, rejects,
    rejection, condemn, condemned, condemns, unfit, unserviceable, unacceptable, unsatisfactory, unsat,
    unsuitable, unusable, unsafe, nok, no go, disapproved, refused, noncompliant, scrap(ped)?,
    junk(ed)?, dnu, (must|shall|should|may|can) not be (used|connected|put), not recommended,
    nonconforming, nonconformity, nonconformance, stop (use|using),
    do not (put|use|connect|release|issue|fly|hook|plug|service|operate|start|supply|fill|pump|run),
    not (for|to be) (use|used|connected|released|issued), (tag|tagged|lock|locked) out`,
  doubting: words`
    abnormal, abnormality, abnormalities, abnormally, unusual, contaminated, anomaly, anomalies, exceed,
    exceeds, exceeded, exceeding, exceedance, off spec, off specification, out of (the )?${LIMITS},
    (outside|over|above|beyond) (of )?(the )?(\p{L}+ )?${LIMITS}`,
  doubtingInRemarks: [
    ...["critical", "alarms?", "alerts?", "caution", "warnings?", "marginal", "marginally", "borderline"],
    ...["(?<!(line|particle|contamination|portable|the|a) )monitor", "not clean", "conditional"],
    ...["conditionally", "restricted", "limited use", "provisional", "provisionally", "preliminary"],
    ...["pending", "monitored", "failures?", "re ?sample", "re ?sampling", "re ?test", "re ?testing"],
    ...["repeat (the )?(sample|test)", "(new|another|second|2nd|fresh) sample(?! point)", "suspect"],
    ...["suspected", "suspicious", "questionable", "doubtful", "elevated", "severe", "serious"],
    ...["action (required|needed|recommended)", "investigate", "investigation", "not representative"],
    ...["degraded", "degradation", "deteriorated", "bad", "poor", "wrong", "incorrect", "dirty"],
    ...["urgent(?! (courier|post|delivery|order|sample|request|analysis|job))", "dangerous"],
    ...["high(?! (pressure|temp|temperature|flow|side|speed|point|line|port))", "too \\p{L}+", "danger"],
    ...["quarantine", "quarantined", "(on )?hold(?! time)", "discard", "discarded", "dispose"],
    ...["drain and", "flush (the|and|system|circuit)"],
    "attention",
    ...MUST_BE_CHANGED,
    ...[
      `((oil|fluid|filter|element) )?(?!cleanl)${CHANGED}\\p{L}*( (is|are|to be|strongly|highly))* (recommended|advised|suggested|proposed|required|needed|necessary|overdue)(?! every)`,
      `(recommend|advise|suggest|propose)(s|ed)?( (to|an?|the|that|oil|fluid|filter|element|you))* ${CHANGED}\\p{L}*`,
    ],
    // A result that was not measured, a bottle that may be of another circuit, and a count that may have to be multiplied.
    "(water|acid)( \\p{L}+)? (estimated|guessed|extrapolated|assumed)",
    ...["illegible", "unreadable", "not (readable|legible)", "mis ?labell?ed", "unlabell?ed", "unmarked"],
    "(label|tag|marking)( (is|was))? (missing|lost|smudged|smeared|unclear|reads|says|shows|states)",
    ...["(no|without( an?)?) label", "mix(ed)? up", "not sure", "unsure"],
    "(cart|circuit|sample|bottle|label|origin|unit) (is |was )?(assumed|uncertain|unclear|unknown|not known)",
    "dilut(ed|ion)",
    ...[`needs? (to be |an? )?(new )?(${CHANGED}\\p{L}*|attention|oil|fluid|filter|element)`],
    ...[
      "mixed fluids?",
      "mixture",
      "mixed (with|in)",
      "another fluid",
      "leaking",
      "leaked",
      "leaks?(?! (check|test))",
    ],
    ...["broken", "spilled", "spilt", "cross contamination", "unreliable", "malfunction\\p{L}*"],
    ...["mismatch", "deviat\\p{L}+", "unidentified", "unknown fluid", "crackles"],
    ...["positive(?! (pressure|displacement|id|identification))", "burnt", "acrid", "burned", "rancid"],
    ...["grit(ty)?", "(particles?|fibres?|fibers?|flakes?|slivers?) on (the )?(patch|membrane|filter)"],
    ...["ground (the )?(cart|unit|circuit)", "(cart|unit|circuit) grounded"],
    ...["(contact|call|ask|consult|see|inform) (\\p{L}+ ){0,3}before(?! (send|ship|order|sampl)\\p{L}*)"],
    // An order not to do something, whatever it is.
    "do not (?!exceed|require|need|show|contain|indicate|affect|differ|vary|change)\\p{L}+",
  ],
  sound: words`
    pass, passed, passes, passing, ok, okay, normal, normally, satisfactory, sat, acceptable, accepted,
    accept, acceptance, good, fit, serviceable, conform, conforms, conforming, conformity, conformance,
    compliant, compliance, complies, comply, meets?, approved, released?, return(ed)? to service,
    suitable, usable, safe, in order, airworthy, match(es|ed|ing)?, confirmed, consistent, identical,
    negative, typical, characteristic, valid(?=\P{L}*$), (within|in|inside) (the )?(\p{L}+ )?${LIMITS}`,
  denying: words`
    no, not, non, never, nothing, without, none, neither, nor, zero, free of, free from, absence of`,
  between: words`
    any, more, further, signs?, evidence, of, visible, significant, limits?, values?, results?, findings?,
    tests?, other, the, a, an, be, been, being, to, is, was, were, are, has, have, had, do, does, did,
    samples?, parameters?, in, at, all, measured, found, considered, deemed, yet, so, very, longer, fully,
    corrective, immediate, maintenance`,
  noneOfIt: ["none", "nil", "no", "0", "zero"],
  verdictTitles: words`
    status, evaluation, assessment, disposition, verdict, conclusions?, judge?ment,
    pass ?[/|-]? ?(or )?fail, fail ?[/|-]? ?pass, accept(ed)? ?/ ?reject(ed)?, ok ?/ ?nok, crackle,
    blotter, spot test, ftir, infrared, identi(fication|ty|fied), ir (spectrum|match|spectroscopy),
    go ?/ ?no ?go, p ?/ ?f, acceptability, acceptance, results?, outcome, decision, conformity, compliance,
    patch( test)?`,
};

/** Every language whose words are known. Where a text is in none of them, see {@link SAYS_NO_VERDICT}. */
export const STATEMENT_LANGUAGES: readonly StatementWords[] = [
  ENGLISH,
  GERMAN,
  FRENCH,
  SPANISH,
  ITALIAN,
  DUTCH,
  PORTUGUESE,
  ELSEWHERE,
];

/**
 * Words under the title of a verdict that give none and are no cause to ask: of the way of the report, and of plain sight.
 */
export const SAYS_NO_VERDICT = words`
  complete, completed, final, finali[sz]ed, finished, done, closed, reported, issued, signed, authori[sz]ed,
  verified, reviewed, checked, valid, validated, logged, received, tested, analy[sz]ed, new, used, use,
  service, active, routine, scheduled, periodic, weekly, monthly, quarterly, yearly, annual, baseline,
  first, initial, trend, stable, steady, unchanged, fine, low, green, white, off, light, pale, grey, gray,
  clean, clear, colou?rless, in, as, is, the, by, lab, laboratory, sample, report, test, results?, fluid,
  oil, expected, before, usual, same, continue, and, to, nfa, abgeschlossen, fertig, erledigt, gepruft,
  geprueft, endgultig, grun, hell, hellgrau, termine, clos, definitif, valide, vert, terminado, finalizado,
  cerrado, verde, completato, concluso, chiuso, afgerond, gereed, groen, finalizada, concluido`;

const EARLIER =
  "(last|previous|prior|preceding|earlier|former|letzten?|vorige[nr]?|vorangegangene[nr]?|vorherige[nr]?|frue?here[nr]?|derniere?s?|precedente?s?|ultim[oa]s?|anteriore?s?|precedenti|scors[oaie]|laatste|afgelopen)";
/** What makes the samples at hand like the earlier ones. */
const ALSO =
  "(as|also|too|like|again|auch|wie|wieder|aussi|comme|encore|tambien|como|anche|come|ook|zoals|tambem)";
const BUT = "(but|aber|mais|pero|ma|maar|mas)";
const THING = `(${SAMPLE}|${RESULT})`;
/** Earlier samples, and what was wrong with them. */
const OF_EARLIER = `(${EARLIER} ${THING}|${THING} ((of|from|of the|del?|des|van|vom|dell?[oa]|da) )?${EARLIER}( (?!${WAS})\\p{L}+)?) ${WAS} (?![^;.]*\\b${ALSO}\\b)((?! ${BUT} )[^,;.])*(,? ${BUT})?`;

/** Advice that goes with every sound sample, and a repeat sample that is only named. */
export const ROUTINE = [
  "(continue|keep|maintain)( \\p{L}+){0,3} (monitor|monitoring|sampling)",
  "(re ?sample|monitor|monitoring|sample)( \\p{L}+){0,3} (next|normal|regular|scheduled|routine|usual|recommended) (\\p{L}+ )?(intervals?|service|schedule|date)",
  "re ?sampl(e|ing) (in|after) (([2-9]\\d|\\d{3}) days|\\d+ months?|([3-9]|\\d\\d) weeks)",
  "(re ?sampl\\p{L}+|re ?test\\p{L}*) (intervals?|every)",
  "failure (analysis|investigation) (lab\\p{L}*|department|group|report)",
  OF_EARLIER,
  "(no|kein\\p{L}*|aucune?) (\\p{L}+ )+?(suspected|vermutet|soupconnee?)",
  "(ne (doit|peut|doivent|peuvent) pas|(must|shall|may) not|darf nicht|no (debe|puede)|non (deve|puo)|mag niet|nao (deve|pode)) (\\p{L}+ )?(reprod\\p{L}*|cop[iy]\\p{L}*|changed|vervielf\\p{L}*|vermenigvuldigd)",
  // A dilution that is in the counts already.
  `(${ACCOUNTED}) for (the )?dilution`,
  `dilut\\p{L}+((?! not )[^;.]){0,30}? (applied|included|${ACCOUNTED})`,
  "re ?(sample|test) (of|after|following|to replace|number|no)",
  `${REPLACES} (\\p{L}+ )?(${NOT_FINAL.join("|")}) ${RESULT}`,
  // A corrected report takes the place of an earlier one, and says so; what it says of itself still counts.
  `${REPLACES}( [^;.]{0,60}?(${TAKEN_BACK.join("|")}))?`,
  // A limit is not a finding, unless it is passed.
  "(?<!(above|over|beyond|outside|of|exceed\\p{L}*|than|reached|at) (the )?)(alarm|alert|warning|action|caution|critical|reject(ion)?|fail(ure)?) (limits?|criteri\\p{L}*)(?! (\\p{L}+ )?(exceed|reach|pass|cross|violat)\\p{L}*)",
  "(particle |fluid )?contamination (class(es)?|codes?|control|monitoring|reports?|analysis|(according )?(to|by) iso)",
  "outliers? (was |were )?(rejected|discarded)",
  // What is done with every bottle in the end.
  "(discarded|disposed of|destroyed|entsorgt) (after|nach)",
  ...["(and )?(then|afterwards) (discarded|disposed of|destroyed)", "nach \\d+ \\p{L}+ entsorgt"],
  // An earlier report, and what became of it.
  `(previous|earlier|former|first|preliminary|provisional|draft|interim) ${RESULT}([^;.]|\\.(?=\\d)){0,40}? (superseded|replaced|cancell?ed|withdrawn|void|invalid)( by (this|the present) ${RESULT})?`,
  "disregard (the |our |any |all )?(previous|earlier|former|prior|first|preliminary)",
];
