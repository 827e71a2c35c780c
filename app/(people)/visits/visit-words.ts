import type { RankedVisits, VisitSums } from '@/lib/decisions/rank-visits'
import type { VisitJob } from '@/lib/jobs/next-visit'
import type { Library } from '@/lib/records/library'
import { placeOf } from '@/lib/records/place-of'
import type { Formats } from '../../ui/formats'
import { countWord } from '../../ui/words'
import { jobName } from '../vehicles/[unit]/proposal-words'
import type { VisitRow } from './visits-view'

/** A job of an engine by its name and its places. */
export function nameOfJob(
  library: Library,
  family: string,
  job: Pick<VisitJob, 'weakPoint' | 'positions'>,
): string {
  const engine = library.families.find(({ key }) => key === family)
  const known = engine?.weakPoints.find(({ key }) => key === job.weakPoint)
  if (!engine || !known) return job.weakPoint
  return jobName({ name: known.component, place: placeOf(known.positions, engine.cylinders) }, job.positions)
}

/** What to mind, of each job that is shown, once. */
export function cautionsOf(
  library: Library,
  rows: readonly VisitRow[],
): { name: string; cautions: string[] }[] {
  const told = new Map<string, { name: string; cautions: string[] }>()
  for (const { family, jobs } of rows)
    for (const { weakPoint } of jobs) {
      const engine = library.families.find(({ key }) => key === family)
      const known = engine?.weakPoints.find(({ key }) => key === weakPoint)
      const name = `${engine?.name ?? family}: ${known?.component.toLowerCase() ?? weakPoint}`
      told.set(`${family} ${weakPoint}`, { name, cautions: known?.cautions ?? [] })
    }
  return [...told.values()].sort((a, b) => a.name.localeCompare(b.name))
}

const visitsWord = (count: number, formats: Formats) =>
  count === 1 ? 'one visit' : `${countWord(count, formats.count)} visits`

/** What so many visits come to, for the end of a sentence. */
function sumWords({ visits, hours, saving, savingLow, savingHigh }: VisitSums, formats: Formats): string {
  const [low, high] = [formats.roughMoney(savingLow), formats.roughMoney(savingHigh)]
  const ends = visits === 1 ? '' : ', were all at the low or all at the high end'
  const band = low === high ? '' : ` (between ${low} and ${high}${ends})`
  return (
    `${visitsWord(visits, formats)} of ${formats.precise(hours)} hours${visits === 1 ? '' : ' together'}, which ` +
    `${visits === 1 ? 'saves' : 'save'} about ${formats.roughMoney(saving)}${band}`
  )
}

/** The sentences above the list: what fits into the hours, what does not, and what must come first. */
export function rankedWords(
  { sums: { above, below }, stopsBelow }: Pick<RankedVisits<VisitRow>, 'sums' | 'stopsBelow'>,
  hours: number | null,
  formats: Formats,
): string[] {
  if (hours === null)
    return [
      `There ${above.visits === 1 ? 'is' : 'are'} ${sumWords(above, formats)}. Say how many hours there are, and it says where they run out.`,
    ]
  const given = `${formats.precise(hours)} ${hours === 1 ? 'hour' : 'hours'}`
  return [
    stopsBelow > 0 &&
      `${given} ${hours === 1 ? 'is' : 'are'} not enough for the vehicles that must not be driven: ${formats.count(stopsBelow)} of them ` +
        `${stopsBelow === 1 ? 'waits' : 'wait'} below the line.`,
    above.visits === 0
      ? `Into ${given} not even the first visit fits.`
      : `Into ${given} ${above.visits === 1 ? 'fits' : 'fit'} ${sumWords(above, formats)}.`,
    below.visits === 0 ? 'Nothing is left below the line.' : `Below the line: ${sumWords(below, formats)}.`,
  ].filter((sentence) => sentence !== false)
}

/** What the line itself says. */
export function lineWords(
  { above }: RankedVisits<VisitRow>['sums'],
  hours: number,
  formats: Formats,
): string {
  const left = hours - above.hours
  const are = (count: number) => `${formats.precise(count)} ${count === 1 ? 'is' : 'are'}`
  return `Here the ${formats.precise(hours)} hours run out: ${are(above.hours)} given${left > 0.05 ? `, ${are(left)} left` : ''}.`
}
