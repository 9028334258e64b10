// A program that wants data frames in a project where the optional package that makes them is not installed.
import { FramesError, samplesFrame } from "siltbook/frames";

try {
  samplesFrame([]);
} catch (error) {
  console.log(error instanceof FramesError && error.message);
}
