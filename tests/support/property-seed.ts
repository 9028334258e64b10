import fc from "fast-check";

/**
 * Properties draw the same cases on every run, so that a change is what turns one red; PROPERTY_SEED draws others, as
 * before a release. A seed that a property names itself goes before this one.
 */
fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env.PROPERTY_SEED ?? 20261201) });
