import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'

type Props = {
  words: string
  address: string
  /** Null where the table is not sorted by it. */
  descending: boolean | null
  isNumber?: boolean
}

/** A column that sorts by itself: once the way that tells most, then the other way round. */
export function SortHeading({ words, address, descending, isNumber }: Props) {
  const direction = descending ? 'descending' : 'ascending'
  return (
    <th
      scope="col"
      className={isNumber ? table.number : undefined}
      aria-sort={descending === null ? undefined : direction}
    >
      <Link href={address} scroll={false}>
        {words}
        <span aria-hidden="true">{descending === null ? '' : descending ? ' ▾' : ' ▴'}</span>
      </Link>
    </th>
  )
}
