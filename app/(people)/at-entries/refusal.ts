import type { Asked } from '@/lib/people/session'
import { type Answer, STATUS_OF } from '../at/answers'

/** An answer as it is sent. */
export const responseOf = (answer: Answer): Response =>
  Response.json(answer, { status: STATUS_OF[answer.outcome], headers: { 'Cache-Control': 'no-store' } })

/** What a phone is told that asks in nobody's name, or in one that may not. */
export const refusalOf = (reason: Extract<Asked, { ok: false }>['reason']): Response =>
  responseOf({ outcome: reason === 'not-allowed' ? 'not-allowed' : 'signed-out' })
