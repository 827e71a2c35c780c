import { isOff } from '@/lib/replay/verdict'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { STANDING_WORDS } from '../../ui/told-words'
import styles from './track-record.module.css'
import { addressOf, inView, SORTS, type Sort, type WeakPointRow, type WeakPointView } from './view'

type Props = { rows: WeakPointRow[]; view: WeakPointView; formats: Formats }

const SORT_WORDS: Record<Sort, string> = {
  off: 'farthest off',
  found: 'most found',
  expected: 'most expected',
  name: 'name',
}

/** Where the scores were right, and where not. */
export function WeakPointTable({ rows, view, formats }: Props) {
  const shown = inView(rows, view)
  return (
    <>
      <ViewLinks rows={rows} view={view} />
      {shown.length === 0 ? (
        <p className={styles.soft}>
          {view.onlyOff
            ? 'None of these was off: what was expected of each came.'
            : 'There are none of these.'}
        </p>
      ) : (
        <table className={styles.table}>
          <caption className="for-ears">Failures expected and found, by weak point</caption>
          <thead>
            <tr>
              <th scope="col">Weak point</th>
              <th scope="col">Engine</th>
              {NUMBERS.map((heading) => (
                <th key={heading} scope="col" className={styles.number}>
                  {heading}
                </th>
              ))}
              <th scope="col">How it came</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((row) => (
              <Row key={`${row.family} ${row.weakPoint}`} row={row} formats={formats} />
            ))}
          </tbody>
        </table>
      )}
    </>
  )
}

const NUMBERS = ['Expected', 'On record', 'Imputed', 'Mean between', 'State not noted']

function Row({ row, formats }: { row: WeakPointRow; formats: Formats }) {
  const cells = [
    formats.tally(row.expected),
    formats.tally(row.recorded),
    formats.tally(row.imputed),
    `${formats.tally(row.low)} and ${formats.tally(row.high)}`,
    formats.tally(row.unnoted),
  ]
  return (
    <tr data-off={isOff(row.standing) ? '' : undefined}>
      <th scope="row">
        <Link href={`/families/${encodeURIComponent(row.family)}`}>{row.name}</Link>
      </th>
      <td data-label="Engine">{row.familyName}</td>
      {cells.map((cell, i) => (
        <td key={NUMBERS[i]} className={styles.number} data-label={NUMBERS[i]}>
          {cell}
        </td>
      ))}
      <td data-label="How it came">{STANDING_WORDS[row.standing]}</td>
    </tr>
  )
}

/** Other orders and other rows, each at its own address. */
function ViewLinks({ rows, view }: { rows: WeakPointRow[]; view: WeakPointView }) {
  const families = new Map(rows.map(({ family, familyName }) => [family, familyName]))
  const choices = [
    {
      name: 'Order',
      options: SORTS.map((sort) => ({
        label: SORT_WORDS[sort],
        to: { ...view, sort },
        on: view.sort === sort,
      })),
    },
    {
      name: 'Show',
      options: [
        { label: 'all', to: { ...view, onlyOff: false }, on: !view.onlyOff },
        { label: 'only where it was off', to: { ...view, onlyOff: true }, on: view.onlyOff },
      ],
    },
    {
      name: 'Engine',
      options: [
        { label: 'all engines', to: { ...view, family: null }, on: view.family === null },
        ...[...families].map(([family, label]) => ({
          ...{ label, to: { ...view, family }, on: view.family === family },
        })),
      ],
    },
  ]
  return (
    <div className={styles.choices}>
      {choices.map(({ name, options }) => (
        <nav key={name} aria-label={name}>
          <span aria-hidden="true">{name}</span>
          {options.map(({ label, to, on }) => (
            <Link key={label} href={addressOf(to)} aria-current={on ? 'true' : undefined} scroll={false}>
              {label}
            </Link>
          ))}
        </nav>
      ))}
    </div>
  )
}
