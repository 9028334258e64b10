export { type Collection, collectSamples } from "./collect.js";
export {
  type FleetFiles,
  type FleetPaths,
  readFleetFiles,
  readRequirements,
  readSampleFiles,
  type SampleFiles,
} from "./fleet-files.js";
export { IntakeError, type IntakeIssue, type QuarantinedRow, sayIssue } from "./issue.js";
export { readCartsFile, readRequirementsFile } from "./json-file.js";
export { type LabFile, readLabFile } from "./lab-file.js";
