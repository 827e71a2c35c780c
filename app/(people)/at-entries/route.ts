import { LARGEST_PHOTOGRAPH } from '@/lib/records/photograph'
import { readLimited } from '../../limited-body'
import { formIn, isOurForm } from '../../our-form'
import { databaseOf, whoAsks } from '../../require-person'
import { ENTRY_PART, PHOTOGRAPH_PART, sentEntrySchema } from '../at/sent-entry'
import { enterSent } from './enter-sent'
import { refusalOf, responseOf } from './refusal'
import type { Sent } from './sent'

/** A photograph, and as much for what is typed with it. */
const LARGEST_ENTRY = 2 * LARGEST_PHOTOGRAPH

const NOT_READ = 'It could not be read: enter it anew. If that does not help, load this page again.'
const TOO_LARGE = 'It is larger than what is taken at once.'

/** Takes one entry from a phone, which sends it again until it has an answer. */
export async function POST(request: Request): Promise<Response> {
  if (!isOurForm(request)) return new Response(null, { status: 403 })
  const asked = await whoAsks('enter-records')
  if (!asked.ok) return refusalOf(asked.reason)
  const body = await readLimited(request, LARGEST_ENTRY).catch(() => 'cut-off' as const)
  // What was cut off on its way is sent again.
  if (body === 'cut-off') return new Response(null, { status: 400 })
  if (body === null) return responseOf({ outcome: 'refused', reasons: [TOO_LARGE] })
  const form = await formIn(body, request.headers)
  const sent = form && (await sentIn(form))
  if (!sent) return responseOf({ outcome: 'refused', reasons: [NOT_READ] })
  return responseOf(await enterSent(await databaseOf(asked.present), asked.present, sent, new Date()))
}

async function sentIn(form: FormData): Promise<Sent | null> {
  const [entry, photograph] = [form.get(ENTRY_PART), form.get(PHOTOGRAPH_PART)]
  if (typeof entry !== 'string') return null
  const read = sentEntrySchema.safeParse(jsonIn(entry))
  if (!read.success) return null
  const bytes = photograph instanceof Blob ? new Uint8Array(await photograph.arrayBuffer()) : null
  return { entry: read.data, photograph: bytes }
}

function jsonIn(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}
