export { FramesError } from "./danfo.js";
export { type FrameToRender, renderFrame } from "./render-frame.js";
export { samplesFrame, samplesOfFrame } from "./samples-frame.js";
export { verdictsFrame } from "./verdicts-frame.js";
