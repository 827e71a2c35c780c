import { LARGEST_BODY_MB, readLimited } from '../limited-body'
import { Problem } from './problem'

/** The forms in which bodies are taken. */
export type BodyType = 'application/json' | 'text/csv'

/**
 * What form a body is in.
 *
 * @throws Problem `media-type` for any other, another charset than UTF-8, or a compressed body
 */
export function bodyType(headers: Headers, taken: readonly BodyType[]): BodyType {
  const [essence = '', ...parameters] = (headers.get('content-type') ?? '').toLowerCase().split(';')
  const type = taken.find((each) => each === essence.trim())
  if (!type) throw new Problem('media-type', `found "${essence.trim()}", expected ${taken.join(' or ')}`)
  const charset = parameters.map((each) => each.trim()).find((each) => each.startsWith('charset='))
  if (charset && !/^charset="?utf-?8"?$/.test(charset))
    throw new Problem('media-type', `found ${charset}, expected UTF-8`)
  const coding = headers.get('content-encoding')
  if (coding !== null && coding !== 'identity')
    throw new Problem('media-type', `found the content coding ${coding}, expected none`)
  return type
}

/**
 * Reads a body whole.
 *
 * @throws Problem `too-large`, as soon as that is seen
 */
export async function readBody(request: Request): Promise<Buffer> {
  const bytes = await readLimited(request)
  if (bytes === null)
    throw new Problem('too-large', `The body has more than ${LARGEST_BODY_MB} MB; send it in several parts`)
  return bytes
}

/**
 * A body as text.
 *
 * @throws Problem `invalid` where it is not UTF-8
 */
export function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    throw new Problem('invalid', 'The body holds bytes that are not UTF-8')
  }
}

/**
 * A body as JSON.
 *
 * @throws Problem `invalid` where it is none
 */
export function jsonOf(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(textOf(bytes))
  } catch (error) {
    if (error instanceof Problem) throw error
    throw new Problem('invalid', `The body is no JSON (${error instanceof Error ? error.message : error})`)
  }
}
