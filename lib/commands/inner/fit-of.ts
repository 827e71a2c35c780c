import { asWritten } from '@/lib/intake/fit-file'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { type FitInput, fitFleet } from '@/lib/scoring/fit-fleet'
import { BadArgument, type CommandIo } from './bad-argument'
import { openFit } from './open-fit'
import { tellOfFit } from './tell-of-fit'
import { tellFollowed } from './tell-tenths'

/** `--fit FILE` and `--no-learning`, as they were typed. */
export interface FitOptions {
  fit?: string | undefined
  learning: boolean
}

/** What numbers rest on beside the library: an earlier fit, one made now, or none. */
export async function fitOf(options: FitOptions, input: FitInput, io: CommandIo): Promise<FleetFit | null> {
  const { library } = input
  if (!options.learning) return null
  if (options.fit !== undefined) return openFit(options.fit, library, io)
  const learned = fitFleet(input, tellFollowed(io))
  tellOfFit(learned, io)
  return asWritten(learned, library)
}

/** @throws BadArgument where both are given */
export function refuseFitWithoutLearning({ fit, learning }: FitOptions): void {
  if (fit !== undefined && !learning) throw new BadArgument('give --fit or --no-learning, not both')
}
