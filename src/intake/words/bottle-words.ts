import { type Appearance, type SamplePoint, words } from "../../samples/index.js";

/**
 * The words of one language by which people say what is in a bottle and how it was filled (common practice, no source).
 *
 * In lower case, with spaces where people also write hyphens. What is not here is not understood, and a person reads it;
 * so a word is only here when it means the same in every such cell.
 */
export interface BottleWords {
  readonly samplePoints: Record<SamplePoint, readonly string[]>;
  /** Names of things that can be seen, and can be denied in a list: "no water, sediment or haze". */
  readonly things: Partial<Record<Appearance, readonly string[]>>;
  /** What the fluid looks like as a whole. */
  readonly looks: Partial<Record<Appearance, readonly string[]>>;
  readonly flowing: Record<"yes" | "no", readonly string[]>;
  /** Names of colours, as single words or several. */
  readonly colours: readonly string[];
  /** Words that shade a colour and name none: "dark" alone says that something is wrong. */
  readonly shades: readonly string[];
  /** What may be in a cell about a colour besides its name, such as the scale it was measured by. */
  readonly scales: readonly string[];
  /** Things without a finding of their own: harmless when there is none of them, and for a person to read otherwise. */
  readonly onlyDenied: readonly string[];
  /** Words that do not change a known word next to them. */
  readonly harmless: Record<"look" | "place" | "flow", readonly string[]>;
  /** What turns the next word round. */
  readonly denying: readonly string[];
  /** What turns the word before it round: "water: none". */
  readonly denyingBehind: readonly string[];
  /** What stands between things that are denied together. */
  readonly or: readonly string[];
  /** What stands between two things that are said. */
  readonly and: readonly string[];
}

/**
 * Ways to name a place by an element: "after the pressure filter". That of a return filter is not among them: fluid from
 * there is neither what the circuit holds nor what it delivers, and a person has to look.
 */
function atElements(places: readonly string[]): string[] {
  return places.flatMap((place) =>
    ["", "the "].flatMap((article) =>
      ["", "pressure ", "high pressure ", "delivery ", "supply ", "service "].flatMap((line) =>
        ["filter", "element", "filter element"].map((element) => `${place} ${article}${line}${element}`),
      ),
    ),
  );
}

export const ENGLISH_BOTTLE_WORDS: BottleWords = {
  samplePoints: {
    "main-flow-line": words`
      main flow line, main line, main flow, pressure line, return line, supply line, delivery line,
      pressure side, return side, pressure port, return port`,
    "upstream-of-element": [
      ...atElements(["upstream of", "upstream", "before", "ahead of"]),
      ...["prefilter", "pre filter", "filter inlet", "inlet of filter", "pressure filter inlet"],
      ...["unfiltered side"],
    ],
    "downstream-of-element": [
      ...atElements(["downstream of", "downstream", "after"]),
      ...["postfilter", "post filter", "filter outlet", "outlet of filter", "pressure filter outlet"],
      ...["filtered side"],
    ],
    reservoir: ["reservoir", "tank", "sump", "reservoir sampling valve", "tank sampling valve"],
    drain: words`
      drain, drains, drain valve, drain plug, drain cock, drain port, drain line, reservoir drain,
      tank drain, tank bottom, reservoir bottom, bottom of tank, bottom of the tank, sump bottom,
      bottom of reservoir, bottom of the reservoir, low point, low point drain, bottom drain`,
    "filter-bowl": ["filter bowl", "filter bowls", "filter housing", "filter drain", "bowl"],
    "dead-end": ["dead end", "dead leg", "deadleg", "blind end", "capped line"],
    "supply-container": words`
      supply container, drum, barrel, can, jerrycan, jerry can, oil can, pail, bucket, container, new fluid,
      new oil, fresh fluid, fresh oil, unused fluid, unused oil, bulk tank, bowser`,
  },
  things: {
    cloudy: ["haze", "cloud", "clouds", "cloudiness", "turbidity", "emulsion", "milkiness", "haziness"],
    "two-layers": words`
      layer, layers, two layers, 2 layers, two phases, 2 phases, phase separation, separation, second phase,
      separate phase, separate layer, stratification`,
    "free-water": words`
      free water, visible water, water, water droplets, water drops, water bubbles, water layer, droplets,
      droplets of water, drops of water, standing water, settled water, moisture, undissolved water,
      bulk water, water beads`,
    "particles-seen": words`
      particle, particles, particulate, particulates, sediment, sediments, debris, speck, specks, flake,
      flakes, grit, sand, dirt, dust, rust, metal, metals, metallic, sliver, slivers, chips, shavings,
      swarf, solids, suspended matter, deposit, deposits, residue, sludge, foreign matter, foreign material,
      foreign object, foreign objects, contaminants, hair, glitter, matter, material, solid`,
    "fibres-seen": ["fibre", "fibres", "fiber", "fibers", "lint"],
  },
  looks: {
    clear: ["clear", "bright", "clear bright", "transparent", "crystal clear", "c&b", "c b"],
    cloudy: words`
      cloudy, hazy, turbid, milky, emulsified, opaque, murky, foggy, misty, unclear`,
    "two-layers": ["layered", "stratified", "separated", "two phase", "2 phase"],
    "nothing-seen": words`
      nothing, nothing seen, nothing visible, nothing found, nothing to report, none seen, none visible,
      normal, ok, okay, good, satisfactory, acceptable, pass, typical, usual, as new, unremarkable, clean,
      dry, homogeneous, uniform, single phase, one phase, 1 phase, as expected, standard, nothing unusual,
      nothing abnormal, nothing else, looks fine, is fine`,
  },
  flowing: {
    yes: words`
      yes, y, true, flowing, running, on, pump on, pump running, circulating, in circulation, under flow,
      with flow, flow, flow on, while flowing, while running, while circulating, during circulation,
      during flow, dynamic, in motion, live, full flow`,
    no: words`
      no, n, false, none, nil, zero, static, stationary, stopped, off, flow off, pump off, pump stopped,
      pumps off, shut down, shutdown, shut off, switched off, turned off, at rest, standing, standstill,
      stagnant, idle, resting, no flow, without flow, zero flow, unpowered, power off, engine off,
      motor off, circuit off, cart off, dead`,
  },
  colours: words`
    red, purple, blue, green, yellow, amber, orange, pink, violet, lilac, mauve, lavender, magenta, crimson,
    scarlet, cherry, ruby, rose, burgundy, maroon, wine, straw, honey, gold, golden, tan, beige, cream,
    brown, grey, gray, white, water white, water clear, colourless, colorless, no colour, no color, undyed,
    without colour, without color, turquoise, reddish, purplish, bluish, greenish, yellowish, brownish,
    pinkish, orangish, greyish, lemon, champagne, plum, indigo, teal, cyan, olive, peach, salmon, copper,
    natural`,
  shades: ["light", "pale", "dark", "deep", "bright", "medium", "strong", "faint", "vivid", "mid"],
  scales: words`
    astm, d1500, d 1500, d6045, d156, iso, saybolt, gardner, hazen, apha, pt co, scale, units, unit, no,
    number, l, colour, color, coloured, colored, dyed, hue, tint, shade`,
  onlyDenied: words`
    odour, odor, smell, foam, foaming, froth, bubbles, air, air bubbles, problem, problems, issue, issues,
    abnormality, abnormalities, abnormal, unusual, anomaly, anomalies, defect, defects, change, changes,
    discolouration, discoloration, contamination, foreign, burnt, findings, signs`,
  harmless: {
    look: words`
      very, slight, slightly, distinct, two, three, separate, quite, somewhat, a, an, the, some, few,
      little, bit, lot, lots, of, many, much, small, large, fine, tiny, big, trace, traces, amount, amounts,
      is, are, was, were, been, looks, look, looked, appears, appeared, appearance, fluid, oil, liquid,
      sample, bottle, visual, visually, visible, visibly, eye, naked, to, by, in, at, on, bottom, surface,
      there, throughout, present, seen, observed, found, noted, detected, suspended, settled, floating,
      shiny, sl, v, any, it, completely, fully, perfectly, all, coarse, heavy, evidence, sign, ferrous, yes,
      entirely, several, positive, y, contains, shows, colour, color, coloured, colored, dyed, hue, tint`,
    place: words`
      at, from, the, of, in, on, cart, circuit, system, hydraulic, side, valve, port, tap, point, cock,
      fitting, sampling, sample, sampler, taken, drawn, filled, line, hose, left, right, fore, aft, front,
      rear, upper, lower, main, pressure, return, no, hand, new, sealed, via, bottom, upstream, downstream,
      before, after, filter, element, outlet, inlet`,
    flow: words`
      the, fluid, oil, pump, pumps, was, is, when, while, drawn, at, full, during, in, sampling, sample,
      cart, circuit, system, flow, with, min, minutes, been, taken, for, of, l/min, lpm, gpm, l, under,
      pressure`,
  },
  denying: words`
    no, 0, not, never, non, without, free of, free from, nil, zero, absence of, lack of, clear of, clean of,
    void of, neither`,
  denyingBehind: ["none", "nil", "no", "n", "negative", "absent", "free", "zero", "0"],
  or: ["or", "nor"],
  and: ["and", "with", "but", "also", "plus", "though", "although", "w"],
};
