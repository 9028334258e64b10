/**
 * Words by which laboratories say that a sample is bad or sound: common practice, no source.
 *
 * In lower case and without accents. Each is a piece of a regular expression that stands for whole words. English is as
 * complete as could be thought of; of German, French and Spanish there are the words that are met on such reports.
 */

/** The sample is turned away. */
export const REJECTING = [
  ...["fail(?:s|ed|ing)? to \\p{L}+", "fail(?! safe)", "failed", "fails", "failing", "reject"],
  ...["rejected", "rejects", "rejection", "condemn", "condemned", "condemns", "unfit", "unserviceable"],
  ...["unacceptable", "unsatisfactory", "unsat", "unsuitable", "unusable", "unsafe", "nok", "no go"],
  ...["disapproved", "refused", "noncompliant"],
  ...["(?:must|shall|should|may|can) not be (?:used|connected|put)", "do not put", "not recommended"],
  ...["nonconforming", "nonconformity", "nonconformance", "do not (?:use|connect|release|issue|fly)"],
  ...["not (?:for|to be) (?:use|used|connected|released|issued)", "durchgefallen", "abgelehnt"],
  ...["verworfen", "gesperrt", "zuruckgewiesen", "unzulassig", "nio", "ungeeignet", "unbrauchbar"],
  ...["refusee?", "rejetee?", "echec", "inacceptable", "inapte", "rechazad[oa]", "fallo", "fallid[oa]"],
  ...["inaceptable"],
];

const LIMITS =
  "(?:limits?|spec|specs|specifications?|tolerances?|range|bounds|maximum|max|allowable|requirements?)";

/** Something is wrong, whatever column it stands in. */
export const DOUBTING = [
  ...["abnormal", "abnormality", "abnormalities", "abnormally", "unusual", "contaminated", "anomaly"],
  ...["anomalies", "exceed", "exceeds", "exceeded", "exceeding", "exceedance", "off spec"],
  ...["off specification", `out of (?:the )?${LIMITS}`],
  ...[`(?:outside|over|above|beyond) (?:of )?(?:the )?(?:\\p{L}+ )?${LIMITS}`, "auffallige?[nrs]?"],
  ...["uberschritten", "uberschreitung", "verunreinigt", "beanstandet", "beanstandung", "anormale?s?"],
  ...["anomalies?", "hors (?:de )?(?:limites?|specifications?|tolerances?)", "depassement"],
  ...["depassee?", "contaminee?", "contaminad[oa]"],
  ...["fuera de (?:limites?|especificacion|rango|tolerancia)", "excede", "anomal[oa]"],
];

/** Something is wrong where a laboratory says it in a column of its own; elsewhere the words may mean other things. */
export const DOUBTING_IN_REMARKS = [
  ...["critical", "alarms?", "alerts?", "caution", "warnings?", "marginal", "marginally", "borderline"],
  ...["(?<!(?:line|particle|contamination|portable|the|a) )monitor", "not clean", "conditional"],
  ...["conditionally", "restricted", "limited use", "provisional", "provisionally", "preliminary"],
  ...["pending", "monitored", "failures?", "re ?sample", "re ?sampling", "re ?test"],
  ...["repeat (?:the )?(?:sample|test)", "(?:new|another|second|fresh) sample", "suspect", "suspected"],
  ...["suspicious", "questionable", "doubtful", "elevated", "severe", "serious"],
  ...["action (?:required|needed|recommended)", "investigate", "investigation", "not representative"],
  ...["degraded", "degradation", "deteriorated", "bad", "poor", "wrong", "incorrect", "dirty"],
  ...["urgent", "dangerous", "high(?! (?:pressure|temp|temperature|flow|side|speed|point|line|port))"],
  ...["too \\p{L}+", "danger", "quarantine", "quarantined", "on hold", "discard", "discarded"],
  ...["dispose", "drain and", "flush (?:the|and|system|circuit)"],
  ...["(?:change|replace|exchange) (?:the )?(?:oil|fluid|filter|element)", "invalid", "void"],
  ...["attention", "mixed fluids?", "mixture", "mixed with", "another fluid", "leaking", "leaked"],
  ...["cross contamination", "bedenklich", "kritisch", "warnung", "achtung", "mangelhaft", "schlecht"],
  ...["critique", "alerte", "attention", "critic[oa]", "alerta", "precaucion", "mal[oa]?"],
];

/** Nothing is wrong. */
export const SOUND = [
  ...["pass", "passed", "passes", "passing", "ok", "okay", "normal", "normally", "satisfactory", "sat"],
  ...["acceptable", "accepted", "accept", "acceptance", "good", "fit", "serviceable", "conform"],
  ...["conforms", "conforming", "conformity", "conformance", "compliant", "compliance", "complies"],
  ...["comply", "meets?", "approved", "released", "suitable", "usable", "safe", "in order"],
  ...[`(?:within|in|inside) (?:the )?(?:\\p{L}+ )?${LIMITS}`, "bestanden", "in ordnung", "io"],
  ...["unauffallig", "unbedenklich", "unkritisch", "zulassig", "konform", "einwandfrei", "freigegeben"],
  ...["conformes?", "satisfaisante?", "acceptee?", "apt[oa]", "aceptable", "aprobad[oa]"],
  ...["correct[oa]?"],
];

/** What turns the words after it round. */
export const DENYING = [
  ...["no", "not", "non", "never", "nothing", "without", "none", "neither", "nor", "zero", "free of"],
  ...["free from", "absence of", "nicht", "kein", "keine", "keinen", "ohne", "pas", "aucune?", "sans"],
  ...["sin", "ningun", "ninguna"],
];

/** Words that may stand between a denial and what is denied. */
export const BETWEEN = [
  ...["any", "more", "further", "signs?", "evidence", "of", "visible", "significant", "limits?"],
  ...["values?", "results?", "findings?", "tests?", "other", "the", "a", "an", "be", "been", "being"],
  ...["to", "is", "was", "were", "are", "has", "have", "had", "do", "does", "did", "samples?"],
  ...["parameters?", "in", "at", "all", "measured", "found", "considered", "deemed", "yet", "so"],
  ...["very", "longer", "fully", "de", "est", "es", "corrective", "immediate", "maintenance"],
];

/** What follows a word to say that there is nothing of it: "alarms: none". */
export const NONE_OF_IT = ["none", "nil", "no", "0", "zero", "nein", "keine", "aucune?", "ninguna?"];

/** Advice that goes with every sound sample, and a repeat sample that is only named. */
export const ROUTINE = [
  "(?:continue|keep|maintain)(?: \\p{L}+){0,3} (?:monitor|monitoring|sampling)",
  "(?:re ?sample|monitor|monitoring|sample)(?: \\p{L}+){0,3} (?:next|normal|regular|scheduled|routine|usual|recommended) (?:\\p{L}+ )?(?:intervals?|service|schedule|date)",
  "re ?(?:sample|test) (?:of|after|following|to replace|number|no)",
];
