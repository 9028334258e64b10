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
  "siltbook describeTrend": MADE_HERE,
  "siltbook/fitness describeAircraftHookups": MADE_HERE,
  "siltbook/fitness describeAircraftTrace": MADE_HERE,
  "siltbook/fitness describeCircuitTrace": MADE_HERE,
  "siltbook/fitness standingOf":
    "takes verdicts and decisions that siltbook made; tests/fit/decisions tries generated ones",
  "siltbook/book Book.decideRows": "names rows of the book; the command quarantine is fuzzed",
  "siltbook/book Book.keepVerdicts":
    "keeps what recordOf made; the command fleet keeps every verdict with it",
  "siltbook/book Book.quarantine": "takes names of carts and circuits; the command quarantine is fuzzed",
  "siltbook/book Book.samplesOfNoCircuit": "takes carts that were read; every judging of a book calls it",
  "siltbook/book Book.settledRows": "takes names of carts and circuits; the command quarantine is fuzzed",
  "siltbook/book judgeBook": "takes carts and requirements that were read; the command fleet is fuzzed",
  "siltbook/book readFleetOutline": "reads what readFleetOfBook reads, but for the samples",
  "siltbook/figures drawClassProbabilities": NAMES_A_PICTURE,
  "siltbook/figures drawCleanUpCurve": NAMES_A_PICTURE,
  "siltbook/figures drawCountSpectrum": NAMES_A_PICTURE,
  "siltbook/figures drawTrend": NAMES_A_PICTURE,
  "siltbook/figures drawWaterSaturation": NAMES_A_PICTURE,
  "siltbook/intake checkSample": "takes samples; every sample that is read goes through it",
  "siltbook/intake collectSamples": "takes files that were read; readFleetFiles calls it",
  "siltbook/intake unreadResults": "takes quarantined rows; readFleetFiles calls it",
  "siltbook/notebook show": "hands what richOf makes to the kernel of a notebook",
  "siltbook/intake meaningSchema": PART_OF_A_FILE,
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
