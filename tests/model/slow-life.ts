import type { LivedLife } from '@/lib/model/lived-life'
import { logSoundSurvival, onsetIntegrals, type TwoStage } from '@/lib/model/two-stage'

/** ln of the likelihood of one life by the accurate integrals, step by step: slow, and written from the model's words alone. */
export function slowly(life: LivedLife, p: TwoStage, noticeRate: number): number {
  const leaving = { ...p, pfMean: 1 / (1 / p.pfMean + noticeRate) }
  const begin = life.entry?.sound
    ? { age: life.entry.age, pi: 0 }
    : { age: life.startAge, pi: life.developing }
  let [age, sound, developing] = [begin.age, 1 - begin.pi, begin.pi]
  if (life.entry && !life.entry.sound) {
    moveTo(life.entry.age)
    const known = sound + developing
    sound /= known
    developing /= known
  }
  let factor = 1
  for (const look of life.looks) {
    moveTo(look.age)
    if (look.odds === Number.POSITIVE_INFINITY) sound = 0
    else developing *= look.odds
  }
  const { ending } = life
  if (ending.kind === 'failed-since') {
    moveTo(ending.since)
    const before = sound + developing
    moveTo(ending.age)
    return Math.log(((before - sound - developing) * leaving.pfMean) / p.pfMean)
  }
  moveTo(ending.age)
  if (ending.kind === 'failed') factor = developing / p.pfMean
  if (ending.kind === 'developing') factor = developing
  if (ending.kind === 'noticed') factor = noticeRate * developing
  if (ending.kind === 'sound') factor = sound
  if (ending.kind === 'open') factor = sound + developing
  return Math.log(factor)

  function moveTo(to: number) {
    const stay = Math.exp(logSoundSurvival(to, leaving) - logSoundSurvival(age, leaving))
    const begun = onsetIntegrals(age, to, leaving).developing
    developing = developing * Math.exp((age - to) / leaving.pfMean) + sound * begun
    sound *= stay
    age = to
  }
}
