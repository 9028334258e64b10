import {
  type ClassesConfidence,
  type Classification,
  type ClassifiedChannel,
  type ClassResult,
  type CleanlinessTarget,
  type FullClassification,
  formatIso4406,
  formatScaleNumber,
  formatTarget,
  ISO_4406_SIZES_UM,
  type TargetAssessment,
} from "../../../cleanliness/index.js";
import { SOURCES } from "../../../provenance/index.js";

/** The classes as the command line prints them: a standard that the sizes cannot serve is null. */
export function classesAsJson(classes: Classification) {
  const { iso4406 } = classes;
  return {
    iso4406:
      iso4406 === undefined
        ? null
        : {
            code: formatIso4406(iso4406),
            bySize: Object.fromEntries(
              iso4406.map((place, index) => [String(ISO_4406_SIZES_UM[index]), formatScaleNumber(place)]),
            ),
          },
    as4059: {
      cumulative: tableAsJson(classes.as4059Cumulative, "bySize"),
      differential: tableAsJson(classes.as4059Differential, "byRange"),
    },
    nas1638: tableAsJson(classes.nas1638, "byRange"),
  };
}

/** Every standard, with channels, margins and how well each table is confirmed. */
export function fullClassesAsJson(classes: FullClassification) {
  const core = classesAsJson(classes);
  return {
    ...core,
    iso4406: core.iso4406 && { ...core.iso4406, channels: classes.iso4406Channels.map(channelAsJson) },
    navy: tableAsJson(classes.navy, "byRange"),
    gost17216: tableAsJson(classes.gost17216, "byRange"),
    milStd1246:
      classes.milStd1246 === undefined
        ? null
        : {
            level: classes.milStd1246.level,
            bySize: Object.fromEntries(
              classes.milStd1246.channels.map(({ sizeUm, level }) => [String(sizeUm), level]),
            ),
            governing: String(classes.milStd1246.governingUm),
            standing: SOURCES["MIL-STD-1246"].standing,
          },
    newFluid: classes.newFluid.map(({ specification, outcome, doubt, source, held }) => ({
      specification,
      outcome,
      standing: SOURCES[source].standing,
      doubt: doubt ?? null,
      byRange: Object.fromEntries(held.map((entry) => [entry.limit.channel, entry.outcome])),
    })),
    unserved: classes.unserved,
  };
}

function tableAsJson<C extends string, N extends string, B extends "bySize" | "byRange">(
  result: ClassResult<C, N> | undefined,
  by: B,
) {
  if (result === undefined) return null;
  const classes = Object.fromEntries(result.channels.map((channel) => [channel.channel, channel.class]));
  return {
    class: result.class,
    ...({ [by]: classes } as Record<B, Record<string, N>>),
    governing: result.governing,
    missing: result.missing,
    table: result.edition,
    standing: SOURCES[result.source].standing,
    countVolumeMl: result.countVolumeMl,
    limitVolumeMl: result.limitVolumeMl,
    channels: result.channels.map(channelAsJson),
  };
}

function channelAsJson<C extends string, N extends string>(channel: ClassifiedChannel<C, N>) {
  return { ...channel, moreThan: channel.moreThan ?? null };
}

/** How sure the classes are; what is not known is null. */
export function certaintyAsJson(certainty: ClassesConfidence) {
  const { reproducibility, iso4406, as4059Cumulative, as4059Differential, nas1638 } = certainty;
  return {
    reproducibility: reproducibility ?? null,
    iso4406: iso4406 ? { channels: iso4406.channels, code: iso4406.code ?? null } : null,
    as4059: { cumulative: as4059Cumulative ?? null, differential: as4059Differential ?? null },
    nas1638: nas1638 ?? null,
  };
}

/** Whether a target is met; what is not known is null. */
export function targetAsJson(target: CleanlinessTarget, assessment: TargetAssessment) {
  return {
    target: formatTarget(target),
    outcome: assessment.outcome,
    channels: assessment.channels.map((entry) => {
      const measured = entry.outcome === "not-measured" ? undefined : entry;
      return {
        channel: entry.limit.channel,
        outcome: entry.outcome,
        count: measured?.count ?? null,
        limit: entry.limit.limit,
        limitVolumeMl: entry.limit.volumeMl,
        share: measured?.share ?? null,
        probability: entry.probability ?? null,
      };
    }),
    probability: assessment.probability ?? null,
  };
}
