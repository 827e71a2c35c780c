import { Link } from './link'
import table from './list-table.module.css'
import styles from './sort-heading.module.css'

type Direction = 'ascending' | 'descending'

type Props = {
  words: string
  address: string
  /** Null where the table is not sorted by it. */
  descending: boolean | null
  isNumber?: boolean
  /** What the column means, where its words do not say it. */
  meaning?: string
}

/** A column that sorts by itself: once the way that tells most, then the other way round. */
export function SortHeading({ words, address, descending, isNumber, meaning }: Props) {
  const direction = descending === null ? null : descending ? 'descending' : 'ascending'
  return (
    <th scope="col" className={isNumber ? table.number : undefined} aria-sort={direction ?? undefined}>
      <Link className={styles.sorts} href={address} title={meaning} scroll={false}>
        <span>{words}</span>
        <SortArrow direction={direction} />
      </Link>
    </th>
  )
}

const SHAPES = {
  ascending: 'M2 8l3-5 3 5z',
  descending: 'M2 2l3 5 3-5z',
  none: 'M2.5 4L5 1.2 7.5 4M2.5 6L5 8.8 7.5 6',
}

/** An arrow where a table is sorted, hollow where it is sorted second, a pair of strokes where it could be. */
export function SortArrow({ direction, second }: { direction: Direction | null; second?: boolean }) {
  return (
    <svg
      className={styles.arrow}
      data-direction={direction ?? 'none'}
      data-second={second || undefined}
      viewBox="0 0 10 10"
      aria-hidden="true"
    >
      <path d={SHAPES[direction ?? 'none']} />
    </svg>
  )
}
