const MADE_HERE = "takes what siltbook made, with texts that came in through a function that is fuzzed";
const NAMES_A_PICTURE =
  "draws a result with a name; names are fuzzed in drawClassTable, HTML in tests/hostile-text";
const PART_OF_A_FILE = "a part of a schema that is fuzzed whole";

/** What takes texts and is not fuzzed by itself, and why. */
export const NOT_FUZZED: Record<string, string> = {
  "siltbook CountError.constructor": "an error, made by siltbook",
  "siltbook/circulation channelLevel": MADE_HERE,
  "siltbook/cleanliness acceptedCounts": "takes the limits of a target, which parseTarget reads",
  "siltbook/cleanliness crossRead": "takes a table of a standard",
  "siltbook fleetRows": MADE_HERE,
  "siltbook/circulation retainedAfter": MADE_HERE,
  "siltbook compareWithLimits": "takes the limits of a target, which parseTarget reads",
  "siltbook/cleanliness classConfidence": "takes a table of a standard",
  "siltbook limitsConfidence": "takes the limits of a target, which parseTarget reads",
  "siltbook measureTrend": "takes samples and a bound; the command trend is fuzzed",
  "siltbook/circulation portLevel": MADE_HERE,
  "siltbook validUntil": MADE_HERE,
  "siltbook/fitness describeNextSample": MADE_HERE,
  "siltbook/fitness describeOverHours": MADE_HERE,
  "siltbook describeTrend": MADE_HERE,
  "siltbook/online describeOnline": MADE_HERE,
  "siltbook/online meanOfMinute": MADE_HERE,
  "siltbook/book BookContents.namedSamples": MADE_HERE,
  "siltbook/online OnlineStream.takeReadings": MADE_HERE,
  "siltbook/intake readCounterLogFile": "the command follow is fuzzed with a log that is a table",
  "siltbook/intake parseLogMap":
    "reads all but four kinds of columns by parseColumnMap; the command follow is fuzzed",
  "siltbook/online OnlineStream.take": "reads its lines by SensorLines.read; the command follow is fuzzed",
  "siltbook/fitness describeAircraftHookups": MADE_HERE,
  "siltbook/fitness describeAircraftTrace": MADE_HERE,
  "siltbook/fitness describeCircuitTrace": MADE_HERE,
  "siltbook/fitness standingOf":
    "takes verdicts and decisions that siltbook made; tests/fit/decisions tries generated ones",
  "siltbook/book Book.entryWithHash":
    "compares its text with the hashes of the book; the command verify takes it",
  "siltbook/book isSignedBy": "takes keys; the command verify is fuzzed",
  "siltbook/book parseSignedHead": "a part of the command verify, which is fuzzed",
  "siltbook/book signHead": "takes keys; the command sign is fuzzed",
  "siltbook/evidence evidenceFromBook": "names a verdict of the book; the command evidence is fuzzed",
  "siltbook/evidence packAsZip": MADE_HERE,
  "siltbook/evidence packFromZip":
    "tests/evidence/archive tries hostile archives; the command verify is fuzzed",
  "siltbook/evidence readEvidenceFiles": "the command verify is fuzzed with it",
  "siltbook/evidence verifyEvidence": "tests/evidence forges packs; the command verify is fuzzed",
  "siltbook/book Book.decideRows": "names rows of the book; the command quarantine is fuzzed",
  "siltbook/book Book.keepVerdicts":
    "keeps what recordOf made; the command fleet keeps every verdict with it",
  "siltbook/book BookContents.quarantine":
    "takes names of carts and circuits; the command quarantine is fuzzed",
  "siltbook/book BookContents.samplesOfNoCircuit":
    "takes carts that were read; every judging of a book calls it",
  "siltbook/book BookContents.settledRows":
    "takes names of carts and circuits; the command quarantine is fuzzed",
  "siltbook/book Book.withdraw": "names a file of the book; the command withdraw is fuzzed",
  "siltbook/book judgeBook": "takes carts and requirements that were read; the command fleet is fuzzed",
  "siltbook/book salvageBook": "takes names of files; the command salvage is fuzzed",
  "siltbook/book readFleetOutline": "reads what readFleetOfBook reads, but for the samples",
  "siltbook/laboratories compareLaboratories": "takes samples; the command laboratories is fuzzed",
  "siltbook/figures drawClassProbabilities": NAMES_A_PICTURE,
  "siltbook/figures drawCleanUpCurve": NAMES_A_PICTURE,
  "siltbook/figures drawCountSpectrum": NAMES_A_PICTURE,
  "siltbook circulationSteps": MADE_HERE,
  "siltbook/figures drawTrace": NAMES_A_PICTURE,
  "siltbook/figures drawTrend": NAMES_A_PICTURE,
  "siltbook/figures drawWaterSaturation": NAMES_A_PICTURE,
  "siltbook/intake checkSample": "takes samples; every sample that is read goes through it",
  "siltbook/intake collectSamples": "takes files that were read; readFleetFiles calls it",
  "siltbook/intake unreadResults": "takes quarantined rows; readFleetFiles calls it",
  "siltbook/notebook show": "hands what richOf makes to the kernel of a notebook",
  "siltbook/intake meaningSchema": PART_OF_A_FILE,
  "siltbook/samples hoseSchema": PART_OF_A_FILE,
  "siltbook/samples patchTestSchema": PART_OF_A_FILE,
  "siltbook/samples cartSchema": PART_OF_A_FILE,
  "siltbook/samples circuitEventSchema": PART_OF_A_FILE,
  "siltbook/samples circuitSchema": PART_OF_A_FILE,
  "siltbook/samples ingressSchema": PART_OF_A_FILE,
  "siltbook/samples limitSchema": PART_OF_A_FILE,
  "siltbook/samples measuredSchema": PART_OF_A_FILE,
  "siltbook/samples ratedBetaSchema": PART_OF_A_FILE,
  "siltbook/samples reportedClassSchema": PART_OF_A_FILE,
  "siltbook/samples requirementSchema": PART_OF_A_FILE,
};
