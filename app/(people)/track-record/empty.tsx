import { leastDaysOfRecords } from '@/lib/replay/default-plan'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import styles from './track-record.module.css'

type Props = { span: { first: Day; last: Day } | null; hasLibrary: boolean; days: number; formats: Formats }

/** Why there is nothing to look back on yet, and what to do first. */
export function NothingToLookBackOn({ span, hasLibrary, days, formats }: Props) {
  const needed = `${formats.count(leastDaysOfRecords(days))} days of records are needed: half a year to learn from, and ${formats.count(days)} days in which it is known what happened`
  return (
    <p className={styles.lead}>
      {hasLibrary ? (
        <>
          The records are not long enough to look back on. {needed}.{' '}
          {span
            ? `They reach from ${formats.day(span.first)} to ${formats.day(span.last)}. `
            : 'None are there yet. '}
          <Link href="/intake">Bring in older records</Link>, if there are any.
        </>
      ) : (
        <>
          No engine is known yet, so that nothing was ever said that could be held against what happened.{' '}
          <Link href="/families">State the first family</Link>.
        </>
      )}
    </p>
  )
}
