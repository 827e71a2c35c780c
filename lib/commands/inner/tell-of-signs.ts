import type { Library } from '@/lib/records/library'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { farthestMoved, type LearnedRate, learnedSigns } from '@/lib/scoring/learned-signs'
import type { CommandIo } from './bad-argument'

/** So many of the rates that moved are named. */
const NAMED = 3

/** Tells of each family how many rates of its signs were learned, and which of them moved farthest from the statement. */
export function tellOfSigns(fit: FleetFit, library: Library, io: CommandIo): void {
  for (const family of library.families) {
    if (family.signs.length === 0) continue
    const rates = learnedSigns(family, fit.families.get(family.key)!.signs)
    const stated = family.signs.reduce((sum, { causes }) => sum + causes.length + 1, 0)
    const named = farthestMoved(rates).slice(0, NAMED).map(shift).join('; ')
    io.say(
      `${family.key}: rates of signs learned: ${rates.length} of ${stated}${named && `; farthest from stated: ${named}`}`,
    )
  }
}

const shift = ({ sign, weakPoint, stated, learned }: LearnedRate) =>
  `${sign} ${weakPoint === null ? 'without cause' : `with ${weakPoint}`} ${figure(stated)} to ${figure(learned)}`

const figure = (rate: number) => Number(rate.toPrecision(2))
