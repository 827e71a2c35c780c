/** The longer side of a photograph, in pixels: a phone makes it no larger before it sends it. */
export const LONGEST_SIDE = 1600
/** The most bytes of one; at that size a photograph has a quarter of it. */
export const LARGEST_PHOTOGRAPH = 2 * 1024 * 1024

/** Why bytes are not taken as a photograph. */
export type PhotographRefusal = 'no-photograph' | 'too-large'

/**
 * What bytes are, whatever they are called: a JPEG with its size in pixels (ITU-T T.81, annex B), or why they are not
 * taken.
 */
export function photographIn(
  bytes: Uint8Array,
): { ok: true; width: number; height: number } | { ok: false; reason: PhotographRefusal } {
  if (bytes.byteLength > LARGEST_PHOTOGRAPH) return { ok: false, reason: 'too-large' }
  const size = jpegSize(bytes)
  if (size === null) return { ok: false, reason: 'no-photograph' }
  // A camera's picture as it is: the browser could not make it smaller.
  if (Math.max(size.width, size.height) > LONGEST_SIDE) return { ok: false, reason: 'too-large' }
  return { ok: true, ...size }
}

const [START, END, SCAN] = [0xd8, 0xd9, 0xda]
/** Frames with a size: SOF0 to SOF15 but for the tables DHT, JPG and DAC among them. */
const isFrame = (marker: number) => marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)

/** Walks the segments from the start to the frame. */
function jpegSize(bytes: Uint8Array): { width: number; height: number } | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (bytes.byteLength < 4 || view.getUint8(0) !== 0xff || view.getUint8(1) !== START) return null
  if (view.getUint8(bytes.byteLength - 2) !== 0xff || view.getUint8(bytes.byteLength - 1) !== END) return null
  for (let at = 2; at + 9 <= bytes.byteLength; ) {
    if (view.getUint8(at) !== 0xff) return null
    const marker = view.getUint8(at + 1)
    if (marker === SCAN) return null
    if (isFrame(marker)) {
      const [height, width] = [view.getUint16(at + 5), view.getUint16(at + 7)]
      return width > 0 && height > 0 ? { width, height } : null
    }
    at += 2 + Math.max(view.getUint16(at + 2), 2)
  }
  return null
}
