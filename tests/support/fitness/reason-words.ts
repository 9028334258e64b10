import type { ReasonCode } from "../../../src/fitness/index.js";

/** What each reason says in one of the hand-reasoned cases, by the name of the case. Read one by one, not copied unread. */
export const REASON_WORDS: Partial<Record<ReasonCode, readonly [string, string]>> = {
  "cannot-be-judged": [
    "a plan that needs ingress at a size that was not given",
    "the data of this circuit or its requirement cannot be judged with: ingress is needed at 4 µm(c) or below, to know what enters above 4 µm(c)",
  ],
  "element-loaded": [
    "an element beyond its permissible pressure drop",
    "the element uses 130 % of its permissible pressure drop (entered on 2026-03-13): fluid may pass it unfiltered; change the element before circulating or connecting",
  ],
  "no-evidence": [
    "a fluid change after the sample where the requirement asks for none",
    "nothing shows particles, water, acid number in the fluid that is in the circuit now: sample S-1 was drawn on 2026-03-04, and the fluid was changed on 2026-03-05",
  ],
  "topped-up-beyond-share": [
    "four top-ups of 2 L each",
    "8 L of 60 L were added since sample S-1 was drawn on 2026-03-04, the last on 2026-03-08; at most 10 % may be added before a new sample is needed",
  ],
  "top-up-not-entered": [
    "a top-up without its litres",
    'fluid was topped up on 2026-03-05 and the litres were not entered; sample S-1 of 2026-03-04 represents the fluid only if little was added: enter "added", such as "2 L"',
  ],
  "trend-past-limit": [
    "a limit crossed since the sample by the whole interval of its trend",
    "by its trend water crossed the limit by 2026-03-14 at the latest, after the last sample of 2026-03-04; draw a new one",
  ],
  "sample-overdue-by-trend": [
    "the day after the trend's next sample was due",
    "by its trend the chance that water is beyond the limit was 5 % on 2026-03-08, and the last sample is of 2026-03-04; a new sample is overdue",
  ],
  "sizes-not-counted": [
    "14 µm(c) not counted and 4 µm(c) outside",
    "ISO 4406 17/15/12 asks for 14, which was not counted; have it counted in the verifying sample",
  ],
  "fluid-not-allowed": [
    "a fluid that the system does not take",
    "the circuit holds MIL-PRF-83282; main system takes AS1241 Type IV",
  ],
  "fluid-contradicts-label": [
    "a label that names another fluid",
    "the label of sample S-1 says MIL-PRF-5606, the circuit is declared to hold MIL-PRF-83282",
  ],
  "fluid-contradicts-viscosity": [
    "viscosity of MIL-PRF-87257 in MIL-PRF-83282",
    "the viscosity at 40 °C speaks against MIL-PRF-83282: 6.8 mm²/s, recalled 10.5 to 17.5; it may be MIL-PRF-87257",
  ],
  "fluid-contradicts-density": [
    "density of a phosphate ester in a hydrocarbon",
    "the density at 15 °C speaks against MIL-PRF-83282: 998 kg/m³, recalled 838 to 857; it may be AS1241 Type IV class 1, or AS1241 Type V",
  ],
  "fluid-contradicts-chlorine": [
    "more chlorine than the fluid may show",
    "the chlorine speaks against MIL-PRF-83282: 101 ppm by mass, limit 100; it may be another fluid or a mixture",
  ],
  "fluid-contradicts-colour": [
    "the colour of another fluid",
    'sample S-1 is reported as "purple"; the fluid is red',
  ],
  "two-layers-seen": [
    "two layers in the bottle",
    "sample S-1 shows two layers: two fluids have met, or free water has settled",
  ],
  "particles-out-of-reach": [
    "ingress that holds the floor above the limit",
    "circulating through the pressure element cannot get there: channel 4 µm(c): ingress holds the level at 2340 per mL, not below the limit of 1300 per mL",
  ],
  "indicator-persistent": [
    "a persistent clogging indicator",
    "the clogging indicator stays out with warm fluid: the element is loaded, and fluid may pass it unfiltered (entered on 2026-03-13)",
  ],
  "level-alarm": [
    "a level alarm",
    "the reservoir level is in alarm: fluid is lost or air is drawn in (entered on 2026-03-13)",
  ],
  "temperature-tripped": [
    "a tripped temperature switch",
    "the temperature switch tripped: find the cause, hot fluid ages and thins (entered on 2026-03-13)",
  ],
  "seals-damaged": [
    "damaged seals",
    "seals are damaged: fluid, air and dirt pass, and the wrong fluid may have attacked them (entered on 2026-03-13)",
  ],
  "cart-state-not-entered": [
    "asked for and not entered",
    "the state of the cart was not entered: indicator, level, temperature and seals",
  ],
  "cart-state-too-old": [
    "entered one day too long ago",
    "the state of the cart was entered on 2026-03-12 and counted until 2026-03-13; it may be at most 1 days old",
  ],
  "no-sample": ["no sample at all", "no sample of this circuit was given"],
  "sample-too-old": [
    "a sample one day too old",
    "sample S-1 was drawn on 2026-03-04 and counted until 2026-04-03; at most 30 days are allowed",
  ],
  "sample-after-judging-date": [
    "a sample of tomorrow",
    "sample S-1 was drawn on 2026-03-04, after the day of judging",
  ],
  "drawn-before-event": [
    "a fluid change after the sample",
    "sample S-1 was drawn on 2026-03-04; the fluid was changed on 2026-03-05 and no sample has been drawn since",
  ],
  "result-in-quarantine": [
    "an unread row of the same day",
    "a.csv row 9 is in quarantine and may hold a newer result of this circuit; correct it and judge again",
  ],
  "fluid-label-not-recognised": [
    "a label that names no known fluid",
    'the label of sample S-1 says "hyd oil", which is no specification known here; expected MIL-PRF-83282',
  ],
  "fluid-not-stated": [
    "no label where one is required",
    "neither label nor report of sample S-1 names the fluid, which is required",
  ],
  "sample-point-not-stated": [
    "sample point required and not stated",
    "it is not stated where sample S-1 was drawn; main-flow-line is required",
  ],
  "sample-point-unsuited": [
    "the reservoir where a main line is required",
    "sample S-1 was drawn at reservoir; main-flow-line is required",
  ],
  "flow-not-stated": [
    "flow required and not stated",
    "it is not stated whether fluid was flowing when sample S-1 was drawn",
  ],
  "drawn-without-flow": [
    "drawn without flow",
    "sample S-1 was drawn without flow; particles settle, so it does not represent the fluid",
  ],
  "blank-not-counted": [
    "a blank asked for and not counted",
    "no blank was counted above 4 µm(c) for sample S-1",
  ],
  "blank-too-high": [
    "a blank of exactly 1 %",
    "the bottle of sample S-1 brings in 1 % of the particles that are allowed in channel 4; less than 1 % is required",
  ],
  "replicates-missing": [
    "replicates asked for and one count given",
    "sample S-1 was counted once; 2 counts are required",
  ],
  "replicates-scatter": [
    "replicates that scatter far more than chance",
    "the counts of sample S-1 above 14 µm(c) scatter by 46.7 % beyond chance; at most 10 % is usual for one well-mixed bottle",
  ],
  "counted-volume-not-stated": [
    "counted volume required and not stated",
    "it is not stated what volume of sample S-1 was counted",
  ],
  "calibration-not-stated": [
    "calibration required and not stated",
    "it is not stated until when the counter of sample S-1 was calibrated",
  ],
  "calibration-overdue": [
    "calibration that ended the day before the sample was drawn",
    "the calibration of the counter of sample S-1 ended on 2026-03-03, before 2026-03-04; have the bottle counted by a calibrated counter",
  ],
  "counted-volume-too-small": [
    "a counted volume one mL too small",
    "19 mL of sample S-1 were counted; 20 mL are required",
  ],
  "appearance-not-reported": ["a bottle nobody looked at", "nobody reported what sample S-1 looks like"],
  "cloudy-seen": [
    "a cloudy bottle",
    "sample S-1 is cloudy; let it stand to tell air from water, and draw again",
  ],
  "words-not-understood": [
    "words about the bottle that nobody has read",
    'the report of sample S-1 says "weird smell" about what is seen in the bottle, which is not understood; have a person read it, then correct the cell or say under "words" in the column map what it means',
  ],
  "laboratory-rejects": [
    "a laboratory that rejects a sample whose results are inside",
    'of sample S-1 the laboratory says "FAIL" in column "Status"; ask the laboratory what is wrong before anything else is done',
  ],
  "laboratory-doubts": [
    "a laboratory that finds something abnormal",
    'of sample S-1 the laboratory says "abnormal" in column "Remarks"; have a person read it and ask the laboratory, or draw a new sample',
  ],
  "stated-class-outside": [
    "a laboratory that states a class dirtier than the target",
    'of sample S-1 the laboratory states ISO 4406 "19/17/14", which is dirtier than ISO 4406 17/15/12; ask the laboratory, and have every size of the target counted. If it was looked into, write class-differs-from-counts into a column "quarantine accepted" of its row and read it again',
  ],
  "stated-class-unexplained": [
    "a laboratory that states a class far dirtier than the sizes that were counted",
    'of sample S-1 the laboratory states NAS 1638 "12", 5 classes dirtier than the sizes that were counted show (7); ask the laboratory, and have the coarser sizes counted. If it was looked into, write class-differs-from-counts into a column "quarantine accepted" of its row and read it again',
  ],
  "laboratory-agrees": [
    "a laboratory that rejects a sample with too many particles",
    'of sample S-1 the laboratory says "FAIL" in column "Status", as do the results that are outside: particles',
  ],
  "smell-unusual": [
    "a bottle that smells",
    "sample S-1 smells unusual, as overheated or foreign fluid does; find out why, and draw again",
  ],
  "patch-stained": ["a stain on the patch", "sample S-1 leaves a stain on its patch; draw a second sample"],
  "patch-not-measured": ["a patch that was not taken", "sample S-1 has no class of a membrane patch"],
  "patch-unsuited": [
    "a patch of another standard",
    "the patch of sample S-1 does not show its class as required: it was compared by NAS 1638; NAVAIR 01-1A-17 is required",
  ],
  "patch-not-known": [
    "a patch that is at most dirtier",
    "the class of the patch is not known well enough: class ≤ 4 by NAVAIR 01-1A-17, at most 3 is allowed",
  ],
  "patch-outside": [
    "a patch beyond its limit",
    "the patch is outside: class 4 by NAVAIR 01-1A-17, at most 3 is allowed; circulate, and take a new patch",
  ],
  "patch-inside": [
    "a patch at its limit",
    "the patch is inside: class 3 by NAVAIR 01-1A-17, at most 3 is allowed",
  ],
  "particles-seen": [
    "particles seen in the bottle",
    "sample S-1 shows particles to the eye; counters do not count those, draw again",
  ],
  "particles-not-measured": [
    "a target whose ranges were not all counted",
    "AS4059 differential 12 asks for >70, which was not counted",
  ],
  "particles-estimated": [
    "14 µm(c) estimated between two counted sizes",
    "channel 14 was estimated or converted, and has to be counted",
  ],
  "particles-not-sure": [
    "39 per mL above 14 µm(c) in 10 mL is not",
    "particles are measured inside, not sure enough: the chance that all channels conform is 68.9 %, and 95 % is required; counting 108 mL in all, or 11 replicates like this one, would settle it",
  ],
  "particles-too-close": [
    "35 per mL above 14 µm(c) by a laboratory that scatters by 30 % is not sure",
    "particles are measured inside, not sure enough: the chance that all channels conform is 66.6 %, and 95 % is required; a channel lies so close to its limit that counting more of the bottle cannot settle it; only cleaner fluid settles it",
  ],
  "water-not-measured": ["no water result", "water was not measured"],
  "water-not-known": ["water below 250", "water is not known well enough: < 250 ppm by mass, limit 200"],
  "water-not-sure": [
    "water beyond the guard band's edge by 0.05 ppm",
    "water is measured inside, not sure enough: 183.6 ppm by mass, limit 200; the chance that it conforms is 94.9 %, and 95 % is required; the mean of 2 results of different laboratories would settle it",
  ],
  "saturation-not-known": [
    "water below 180 with 150 of saturation allowed",
    "water at 20 °C, of which 50 % of saturation is allowed, is not known well enough: < 180 ppm by mass, limit 150",
  ],
  "saturation-not-sure": [
    "water of saturation, 150 allowed: 134 is not",
    "water at 20 °C, of which 50 % of saturation is allowed, is measured inside, not sure enough: 134 ppm by mass, limit 150; the chance that it conforms is 94.5 %, and 95 % is required; the mean of 2 results of different laboratories would settle it",
  ],
  "acid-not-measured": ["no acid result", "the acid number was not measured"],
  "acid-not-known": ["acid above 0.1", "the acid number is not known well enough: > 0.1 mg KOH/g, limit 0.2"],
  "acid-not-sure": [
    "acid beyond the guard band's edge",
    "the acid number is measured inside, not sure enough: 0.184 mg KOH/g, limit 0.2; the chance that it conforms is 94.5 %, and 95 % is required; the mean of 2 results of different laboratories would settle it",
  ],
  "viscosity-not-measured": [
    "viscosity asked for and not measured",
    "the viscosity at 40 °C was not measured",
  ],
  "viscosity-not-known": [
    "viscosity below 13, which may be below 12",
    "the viscosity at 40 °C is not known well enough: < 13 mm²/s, limits 12 to 15",
  ],
  "viscosity-not-sure": [
    "viscosity a step closer to its lower limit is not",
    "the viscosity at 40 °C is measured inside, not sure enough: 12.32 mm²/s, limits 12 to 15; the chance that it conforms is 94.5 %, and 95 % is required; the mean of 2 results of different laboratories would settle it",
  ],
  "chlorine-not-measured": ["chlorine asked for and not measured", "chlorine was not measured"],
  "chlorine-not-known": [
    "chlorine below 300",
    "chlorine is not known well enough: < 300 ppm by mass, limit 200",
  ],
  "chlorine-not-sure": [
    "chlorine half a standard uncertainty inside",
    "chlorine is measured inside, not sure enough: 190 ppm by mass, limit 200; the chance that it conforms is 69.1 %, and 95 % is required; the mean of 11 results of different laboratories would settle it",
  ],
  "metals-not-measured": ["one metal of two not measured", "iron was not measured"],
  "metals-not-known": [
    "one metal only known to be below 60",
    "calcium is not known well enough: < 60 ppm by mass, limit 50",
  ],
  "metals-not-sure": [
    "a metal half a standard uncertainty inside",
    "calcium is measured inside, not sure enough: 48 ppm by mass, limit 50; the chance that it conforms is 69.1 %, and 95 % is required; the mean of 11 results of different laboratories would settle it",
  ],
  "density-not-measured": [
    "density for identity not measured",
    "the density at 15 °C was not measured, and tells whether it is MIL-PRF-83282",
  ],
  "colour-not-reported": [
    "colour asked for and not reported",
    "the colour of sample S-1 was not reported; expected red",
  ],
  "identity-in-doubt": [
    "viscosity just out of the recalled range",
    "the viscosity at 40 °C is not what MIL-PRF-83282 usually has: 10.4 mm²/s, recalled 10.5 to 17.5; it may be AS1241 Type IV, or AS1241 Type V, or MIL-PRF-5606; where the fluid's own certificate bears it out, give its range in identity.viscosity40Mm2PerS",
  ],
  "colour-of-another-fluid": [
    "the colour of another fluid where none is required",
    'sample S-1 is reported as "purple"; MIL-PRF-83282 is dyed red, so it may be another fluid or a mixture',
  ],
  "colour-not-understood": [
    "a word that names no colour",
    'sample S-1 is reported as "off": "off" is no colour known here; let a person look at the bottle',
  ],
  "identity-not-known": [
    "viscosity only known to be below 14",
    "the viscosity at 40 °C does not tell whether it is MIL-PRF-83282: < 14 mm²/s, limits 13 to 15",
  ],
  "together-not-sure": [
    "water and acid each sure, but not both together",
    "each quantity is measured inside, but the chance that all conform together is 92.1 %, and 95 % is required; water is the least sure",
  ],
  "water-outside": [
    "water one ppm outside",
    "water is outside: 201 ppm by mass, limit 200; filters do not remove it",
  ],
  "saturation-outside": [
    "water 151 with 150 of saturation allowed",
    "water at 20 °C, of which 50 % of saturation is allowed, is outside: 151 ppm by mass, limit 150; filters do not remove it",
  ],
  "free-water-seen": ["free water in the bottle", "sample S-1 shows free water; drain it and exchange fluid"],
  "acid-outside": [
    "acid one step outside",
    "the acid number is outside: 0.21 mg KOH/g, limit 0.2; filters do not remove it",
  ],
  "viscosity-outside": [
    "viscosity one step below its lower limit",
    "the viscosity at 40 °C is outside: 11.9 mm²/s, limits 12 to 15; filtering does not change it",
  ],
  "chlorine-outside": [
    "chlorine one ppm outside",
    "chlorine is outside: 201 ppm by mass, limit 200; filters do not remove it",
  ],
  "metals-outside": [
    "one metal one ppm outside",
    "calcium is outside: 51 ppm by mass, limit 50; filters do not remove what is dissolved",
  ],
  "particles-outside": [
    "4 µm(c) one particle per mL outside",
    "ISO 4406 17/15/12 is exceeded, most at channel 4: 1301 particles per mL, limit 1300",
  ],
  "not-circulated-since": [
    "circulated one minute too little since an element change",
    "the element was changed on 2026-03-01 and 15 min of circulation are required; 14 min since",
  ],
  "fluid-allowed": ["a fluid that the system takes", "MIL-PRF-83282 is allowed in main system"],
  "cart-state-sound": [
    "everything found sound",
    "indicator, level, temperature and seals were found sound on 2026-03-13",
  ],
  "sample-recent": [
    "a sample exactly as old as allowed",
    "sample S-1 was drawn on 2026-03-04 and counts until 2026-04-03, 30 days",
  ],
  "counts-unlike-history": [
    "a hundredth of what the circuit has shown, with nothing that explains it",
    "sample S-1 shows about 1/93 of what its circuit has shown: above 4 µm(c) 12 per mL, usually 1200; per mL and per " +
      "100 mL are easily mistaken, and nothing that was entered explains it. Ask the laboratory; enter a change of fluid or " +
      'element, or a circulation with its minutes, if there was one; or write factor-of-100 into a column "quarantine accepted" of ' +
      "its row and read it again",
  ],
  "particles-inside": [
    "everything exactly at its limit",
    "ISO 4406 17/15/12 is met, closest at channel 4: 1300 particles per mL, limit 1300",
  ],
  "water-inside": ["water one ppm inside", "water is inside: 199 ppm by mass, limit 200"],
  "saturation-inside": [
    "water 149 with 150 of saturation allowed",
    "water at 20 °C, of which 50 % of saturation is allowed, is inside: 149 ppm by mass, limit 150",
  ],
  "acid-inside": ["acid one step inside", "the acid number is inside: 0.19 mg KOH/g, limit 0.2"],
  "viscosity-inside": [
    "viscosity exactly at its lower limit",
    "the viscosity at 40 °C is inside: 12 mm²/s, limits 12 to 15",
  ],
  "chlorine-inside": ["chlorine exactly at its limit", "chlorine is inside: 200 ppm by mass, limit 200"],
  "metals-inside": ["metals exactly at their limits", "calcium is inside: 50 ppm by mass, limit 50"],
};
