import { type FleetFit, wasLearned } from '@/lib/scoring/family-fit'
import type { CommandIo } from './bad-argument'

/** Tells of what could not be learned, and of findings that contradict the life before them. */
export function tellOfFit(fit: FleetFit, io: CommandIo): void {
  for (const [family, { weakPoints }] of fit.families) {
    for (const [key, life] of weakPoints) {
      const where = `${family}, ${key}`
      if (!life.converged) io.say(`${where}: no peak was found in its lives; the library's statement stands`)
      else if (!wasLearned(life)) io.say(`${where}: no lives on record; the library's statement stands`)
      if (life.contradictory > 0)
        io.say(`${where}: findings that the life before them rules out, left out: ${life.contradictory}`)
      if (life.withoutWarning > 0)
        io.say(
          `${where}: found developing though it gives no warning, counted as running: ${life.withoutWarning}`,
        )
    }
  }
}
