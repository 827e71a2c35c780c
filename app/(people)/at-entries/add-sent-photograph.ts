import { type PhotographRefusal, photographIn } from '@/lib/records/photograph'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { addPhotograph } from '@/lib/store/write/photograph'
import type { Answer } from '../at/answers'
import { NotEntered } from './not-entered'
import type { Sent } from './sent'

const REFUSALS: Record<PhotographRefusal, string> = {
  'no-photograph': 'That is no photograph that can be shown: take it again.',
  'too-large': 'That photograph is too large: take it again on this page, which makes it smaller.',
}

const refused = (reason: PhotographRefusal) =>
  new NotEntered({ outcome: 'refused', reasons: [REFUSALS[reason]] })

/** Keeps a photograph of a vehicle. @throws NotEntered */
export async function addSentPhotograph(
  scope: OrganisationScope,
  { entry, photograph }: Sent,
  by: { now: Date; by: string },
): Promise<Answer> {
  if (photograph === null) throw refused('no-photograph')
  const read = photographIn(photograph)
  if (!read.ok) throw refused(read.reason)
  const { width, height } = read
  const note = (entry.fields.note ?? '').trim()
  const picture = { unit: entry.unit, content: photograph, width, height, note }
  const id = await addPhotograph(scope, { ...picture, takenAt: new Date(entry.madeAt) }, by)
  if (id === null) throw new NotEntered({ outcome: 'gone', into: null })
  return { outcome: 'entered', words: 'Photograph: kept with the vehicle.', lines: [] }
}
