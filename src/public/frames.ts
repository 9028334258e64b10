// Results as data frames, and back; needs the package danfojs.

export {
  FramesError,
  type FrameToRender,
  renderFrame,
  samplesFrame,
  samplesOfFrame,
  verdictsFrame,
} from "../frames/index.js";
