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
  return found?.rawValue ?? (await inSquares(whole)) ?? (await inStripes(whole));
}

/** The QR code in a picture. @param {ImageBitmap} whole */
async function inSquares(whole) {
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

/** The bar code in a picture, upright or on its side, or the Data Matrix code. @param {ImageBitmap} whole */
async function inStripes(whole) {
  const bars = await import("../vendor/bars/decode.js");
  const hints = new Map([[bars.DecodeHintType.TRY_HARDER, true]]);
  const readers = [new bars.Code128Reader(), new bars.DataMatrixReader(), new bars.Code39Reader(), new bars.Code93Reader(), new bars.MultiFormatUPCEANReader(null), new bars.ITFReader()];
  for (const side of SIDES) {
    for (const turned of [false, true]) {
      const pixels = pixelsOf(whole, side, turned);
      const seen = new bars.BinaryBitmap(new bars.HybridBinarizer(new bars.RGBLuminanceSource(greyOf(pixels), pixels.width, pixels.height)));
      for (const reader of readers) {
        try {
          return reader.decode(seen, hints).getText();
        } catch {
          // None of its kind.
        }
      }
    }
  }
  return null;
}

/** How bright each pixel is, by the weights of ITU-R BT.601. @param {ImageData} pixels */
function greyOf({ data }) {
  return Uint8ClampedArray.from({ length: data.length / 4 }, (_, at) => 0.299 * data[4 * at] + 0.587 * data[4 * at + 1] + 0.114 * data[4 * at + 2]);
}

/** @param {ImageBitmap} picture @param {number} side @param {boolean} [turned] by a quarter */
function pixelsOf(picture, side, turned = false) {
  const by = Math.min(1, side / Math.max(picture.width, picture.height));
  const [wide, high] = [picture.width, picture.height].map((long) => Math.max(1, Math.round(long * by)));
  const canvas = document.createElement("canvas");
  canvas.width = turned ? high : wide;
  canvas.height = turned ? wide : high;
  const at = canvas.getContext("2d", { willReadFrequently: true });
  if (!at) throw new Error("canvas");
  // What is seen through is white, as paper is.
  at.fillStyle = "#fff";
  at.fillRect(0, 0, canvas.width, canvas.height);
  if (turned) at.setTransform(0, 1, -1, 0, high, 0);
  at.drawImage(picture, 0, 0, wide, high);
  return at.getImageData(0, 0, canvas.width, canvas.height);
}
