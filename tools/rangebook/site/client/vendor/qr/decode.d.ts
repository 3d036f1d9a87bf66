// What is used of it. Ours, not the package's.
export default function decodeQR(image: { width: number; height: number; data: Uint8ClampedArray }, options?: { effort?: number; timeLimit?: number }): string;
