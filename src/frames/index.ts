export { FramesError } from "./danfo.js";
export { type FrameToRender, renderFrame } from "./render-frame.js";
export { sampleColumns } from "./sample-columns.js";
export { samplesFrame, samplesOfFrame } from "./samples-frame.js";
export { VERDICT_COLUMNS_OF_FRAME, verdictsFrame } from "./verdicts-frame.js";
