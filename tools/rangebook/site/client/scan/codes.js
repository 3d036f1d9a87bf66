// The code in a picture: by the browser's own reader where it has one, else by a library that is loaded then.

/** @import { Detector, DetectorMaker } from "../types/scan.js" */

/** What labels and boxes carry, in the words of the Shape Detection API. */
const FORMATS = ["qr_code", "data_matrix", "code_128", "code_39", "code_93", "itf", "ean_13", "ean_8", "upc_a", "pdf417", "aztec"];
/** Longer sides in pixels that a picture is tried at: a code that fills it is found in the small one, a small one in the large. */
const SIDES = [900, 1800, 600];
const MOST_BYTES = 40_000_000;
const LONG_ENOUGH_MS = 1500;

/** The browser's own reader, `null` where it has none that knows any of these codes. @returns {Promise<Detector | null>} */
export async function ownDetector() {
  const { BarcodeDetector } = /** @type {{ BarcodeDetector?: DetectorMaker }} */ (/** @type {object} */ (globalThis));
  if (!BarcodeDetector) return null;
  try {
    const known = await BarcodeDetector.getSupportedFormats();
    const formats = FORMATS.filter((one) => known.includes(one));
    return formats.length ? new BarcodeDetector({ formats }) : null;
  } catch {
    return null;
  }
}

/** What the code in a picture says; `null` where none is found. @param {Blob} picture @param {Detector | null} detector */
export async function codeIn(picture, detector) {
  if (picture.size > MOST_BYTES) return null;
  const whole = await createImageBitmap(picture).catch(() => null);
  if (!whole) return null;
  const [found] = detector ? await detector.detect(whole).catch(() => []) : [];
  if (found) return found.rawValue;
  const { default: decodeQR } = await import("../vendor/qr/decode.js");
  for (const side of SIDES) {
    try {
      return decodeQR(pixelsOf(whole, side), { timeLimit: LONG_ENOUGH_MS });
    } catch {
      // None at this size.
    }
  }
  return null;
}

/** @param {ImageBitmap} picture @param {number} side */
function pixelsOf(picture, side) {
  const by = Math.min(1, side / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * by));
  canvas.height = Math.max(1, Math.round(picture.height * by));
  const at = canvas.getContext("2d", { willReadFrequently: true });
  if (!at) throw new Error("canvas");
  // What is seen through is white, as paper is.
  at.fillStyle = "#fff";
  at.fillRect(0, 0, canvas.width, canvas.height);
  at.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return at.getImageData(0, 0, canvas.width, canvas.height);
}
