/** The smallest bytes that say of themselves that they are a JPEG of that size: a start, a frame, an end. */
export function aJpeg(width: number, height: number): Uint8Array<ArrayBuffer> {
  const [high, low] = [(n: number) => n >> 8, (n: number) => n & 0xff]
  const frame = [0, 11, 8, high(height), low(height), high(width), low(width), 1, 1, 0x11, 0]
  return new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 2, 0xff, 0xc0, ...frame, 0xff, 0xd9])
}
