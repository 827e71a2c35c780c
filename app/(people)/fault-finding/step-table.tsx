import type { FaultMove, FaultSearched } from '@/lib/jobs/find-fault'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import styles from './fault-finding.module.css'
import { chanceWords, costWords, moveWords } from './fault-words'

type Props = {
  search: FaultSearched
  /** Where the result of a step is entered; null for who may not. */
  enter: (move: FaultMove) => string | null
  formats: Formats
}

/** The steps one after another, with what each costs and may bring, and where its result is entered. */
export function StepTable({ search: { moves, stop }, enter, formats }: Props) {
  return (
    <table className={table.table}>
      <caption className="for-ears">Looks and trial replacements, in the order that costs least</caption>
      <thead>
        <tr>
          <th scope="col">Step</th>
          <th scope="col">Its cost</th>
          <th scope="col">If nothing came out before</th>
          <th scope="col">From here on</th>
        </tr>
      </thead>
      <tbody>
        {moves.map((move, i) => {
          const address = enter(move)
          return (
            <tr key={moveWords(move)} className={stop?.after === i ? styles.stopsHere : undefined}>
              <th scope="row">
                {stop?.after === i && <span className={styles.ask}>Stop and ask before this. </span>}
                {formats.count(i + 1)}. {upperFirst(moveWords(move))}
                {address !== null && (
                  <Link
                    className={styles.enter}
                    href={address}
                    aria-label={`Enter the result of step ${i + 1}`}
                  >
                    enter the result
                  </Link>
                )}
              </th>
              <td data-label="Its cost">{costWords(move.cost, formats)}</td>
              <td data-label="If nothing came out before">{chanceWords(move, formats)}</td>
              <td data-label="From here on">about {formats.roughMoney(move.expectedCostFromHere)}</td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
