import type { StoredReport } from '@/lib/store/read/driver-reports'
import { DRIVER_KINDS } from '../../(label)/q/[key]/driver-words'
import type { Formats } from '../../ui/formats'
import { countWord } from '../../ui/words'

/** What stands beside every report that waits. */
export const NOT_CONFIRMED = 'A driver reports, not confirmed'

export const reportAddress = (id: string): string => `/reports?open=${id}#open`

/** What was said, in one line: “a noise: knocks uphill since this morning”. */
export const saidWords = ({ kind, words }: Pick<StoredReport, 'kind' | 'words'>): string =>
  `${DRIVER_KINDS[kind]}: ${words}`

/** When it came, at which odometer, from whom. */
export function whereFrom({ receivedAt, odometerKm, driver }: StoredReport, formats: Formats): string {
  return [
    formats.moment(receivedAt),
    odometerKm === null ? null : `at ${formats.distance(odometerKm)}`,
    driver === null ? 'without a name' : `by ${driver}`,
  ]
    .filter((each) => each !== null)
    .join(', ')
}

/** What became of it, when and by whom. */
export function answerWords({ answer }: StoredReport, formats: Formats): string {
  if (answer === null) return 'waits'
  const who = `${formats.moment(answer.at)}, by ${answer.byName ?? 'somebody'}`
  return answer.act === 'confirmed' ? `confirmed ${who}` : `set aside ${who}: ${answer.reason}`
}

/** How many wait, as a part of a sentence; the link goes round it. */
export const waitingWords = (count: number, inFigures: (count: number) => string): string =>
  `${countWord(count, inFigures)} ${count === 1 ? 'driver’s report is' : 'drivers’ reports are'} not confirmed`
