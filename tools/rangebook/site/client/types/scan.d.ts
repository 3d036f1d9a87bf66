// The browser's own reader of codes, which not every one has. Source: W3C WICG, Shape Detection API (members from memory).

export interface Detector {
  detect(source: CanvasImageSource | ImageBitmap | Blob): Promise<{ rawValue: string }[]>;
}

export interface DetectorMaker {
  new (options?: { formats: string[] }): Detector;
  getSupportedFormats(): Promise<string[]>;
}
