// What is used of it. Ours, not the package's.
export class RGBLuminanceSource {
  constructor(grey: Uint8ClampedArray, width: number, height: number);
}
export class HybridBinarizer {
  constructor(source: RGBLuminanceSource);
}
export class BinaryBitmap {
  constructor(binarizer: HybridBinarizer);
}
export const DecodeHintType: { TRY_HARDER: number };
interface Reader {
  decode(picture: BinaryBitmap, hints: Map<number, unknown>): { getText(): string };
}
export const Code128Reader: new () => Reader;
export const Code39Reader: new () => Reader;
export const Code93Reader: new () => Reader;
export const ITFReader: new () => Reader;
export const MultiFormatUPCEANReader: new (hints: Map<number, unknown> | null) => Reader;
export const DataMatrixReader: new () => Reader;
