import { logEvent } from '@/lib/log/log-event.mjs'

const MEGABYTE = 1024 * 1024

/** The largest body that is taken, in MB; the start has made sure that it is a number. */
export const LARGEST_BODY_MB = Number(process.env.GUDGEON_LARGEST_BODY_MB || 64)
export const LARGEST_BODY = LARGEST_BODY_MB * MEGABYTE

/**
 * Reads a body whole, into memory.
 *
 * @param largest in bytes
 * @returns null for one that is too large, as soon as that is seen; nothing more of it is kept then
 */
export async function readLimited(
  request: Request,
  largest = LARGEST_BODY,
): Promise<Buffer<ArrayBuffer> | null> {
  if (Number(request.headers.get('content-length') ?? 0) > largest) return tooLarge(largest)
  const pieces: Uint8Array[] = []
  let length = 0
  for await (const piece of piecesOf(request)) {
    length += piece.byteLength
    if (length > largest) return tooLarge(largest)
    pieces.push(piece)
  }
  return Buffer.concat(pieces, length)
}

function tooLarge(largest: number): null {
  logEvent('body refused as too large', { largest })
  return null
}

async function* piecesOf({ body }: Request): AsyncGenerator<Uint8Array, void, undefined> {
  if (body === null) return
  const reader = body.getReader()
  try {
    for (let read = await reader.read(); !read.done; read = await reader.read()) yield read.value
  } finally {
    await reader.cancel()
  }
}
