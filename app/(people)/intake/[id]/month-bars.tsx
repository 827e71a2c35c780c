import type { FileSummary } from '@/lib/store/intake-summary'
import { parseDay } from '@/lib/units/dates'
import type { Formats } from '../../../ui/formats'
import styles from '../intake.module.css'

const MOST_BARS = 96

/** From which month to which, with a bar a month: gaps and wrong years are seen at once. */
export function MonthBars({ months, formats }: { months: FileSummary['months']; formats: Formats }) {
  const [first, last] = [months[0], months.at(-1)]
  if (!first || !last) return null
  const span = monthsBetween(first[0], last[0])
  const counts = new Map(months)
  const most = Math.max(...counts.values())
  const words =
    first[0] === last[0]
      ? monthWords(first[0], formats)
      : `${monthWords(first[0], formats)} to ${monthWords(last[0], formats)}`
  return (
    <>
      {words}
      {span.length > 1 && span.length <= MOST_BARS && (
        <svg
          className={styles.months}
          viewBox={`0 0 ${span.length} 10`}
          preserveAspectRatio="none"
          aria-hidden="true"
        >
          {span.map((month, i) => {
            const height = (10 * (counts.get(month) ?? 0)) / most
            return <rect key={month} x={i + 0.1} width={0.8} y={10 - height} height={height} />
          })}
        </svg>
      )}
    </>
  )
}

function monthsBetween(first: string, last: string): string[] {
  const number = (month: string) => Number(month.slice(0, 4)) * 12 + Number(month.slice(5)) - 1
  return Array.from({ length: number(last) - number(first) + 1 }, (_, i) => {
    const at = number(first) + i
    return `${Math.floor(at / 12)}-${String((at % 12) + 1).padStart(2, '0')}`
  })
}

function monthWords(month: string, formats: Formats): string {
  const day = parseDay(`${month}-01`)
  return day === null ? month : formats.month(day)
}
