import type { OrganisationScope } from '../with-organisation'

/** What a person did about a notice that a vehicle must not be driven. */
export type StopAnswer =
  | { act: 'told'; whom: string }
  | { act: 'parked' }
  /** Because of a repair or a named check. */
  | { act: 'released'; because: string }

/**
 * Notes the answer with who gave it and when. Each step is taken once: what was noted first stays.
 *
 * @returns false where there is no such open notice, or the step was taken already
 */
export async function answerStop(
  { tx }: OrganisationScope,
  id: string,
  answer: StopAnswer,
  { now, by }: { now: Date; by: string },
): Promise<boolean> {
  const changed = await changeNotice()
  return changed > 0

  function changeNotice(): Promise<number> {
    switch (answer.act) {
      case 'told':
        return tx.$executeRaw`
          update stop_notices set told_at = ${now}, told_by = ${by}::uuid, told_whom = ${answer.whom}
          where id = ${id}::uuid and told_at is null and released_at is null`
      case 'parked':
        return tx.$executeRaw`
          update stop_notices set parked_at = ${now}, parked_by = ${by}::uuid
          where id = ${id}::uuid and parked_at is null and released_at is null`
      case 'released':
        return tx.$executeRaw`
          update stop_notices set released_at = ${now}, released_by = ${by}::uuid, released_because = ${answer.because}
          where id = ${id}::uuid and released_at is null`
    }
  }
}
