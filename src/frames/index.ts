export { FramesError } from "./danfo.js";
export { renderFrame } from "./render-frame.js";
export { samplesFrame, samplesOfFrame } from "./samples-frame.js";
export { verdictsFrame } from "./verdicts-frame.js";
