import { speak } from "../shared/say.js";

export const SCAN = speak({
  "scan.open": "Scan a label",
  "scan.aim": "Hold the code still in the picture.",
  "scan.no_camera": "The camera cannot be used here. Take a picture of the code instead.",
  "scan.picture": "Take a picture of the code",
  "scan.looking": "Looking for a code …",
  "scan.none": "No code was found in the picture. Nearer, straight on, without glare.",
  "scan.close": "Close",
});
