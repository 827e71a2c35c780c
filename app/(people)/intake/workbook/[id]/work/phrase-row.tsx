import type { Tie } from '@/lib/intake/workbook/mapping'
import type { Family } from '@/lib/records/library'
import { ACTIONS, FOUND } from '../../../../../ui/words'
import styles from '../../../intake.module.css'

type Props = {
  phrase: { key: string; example: string; count: number }
  place: number
  tie: Tie | null
  families: readonly Family[]
  count: (n: number) => string
}

/** One phrase, and what it is tied to in each engine. */
export function PhraseRow({ phrase, place, tie, families, count }: Props) {
  const { key, example } = phrase
  return (
    <tr>
      <th scope="row">
        {key}
        {example !== key && <small>for instance “{example}”</small>}
        <input type="hidden" name="phrase" value={key} />
      </th>
      <td className={styles.number}>{count(phrase.count)}</td>
      {families.map((family) => (
        <td key={family.key}>
          <select
            name={`weak ${place} ${family.key}`}
            defaultValue={tie?.weakPoints[family.key] ?? ''}
            aria-label={`“${key}” on ${family.name}`}
          >
            <option value="">kept beside</option>
            {family.weakPoints.map((point) => (
              <option key={point.key} value={point.key}>
                {point.component}: {point.failureMode}
              </option>
            ))}
          </select>
        </td>
      ))}
      <td>
        <select
          name={`action ${place}`}
          defaultValue={tie?.action ?? 'renew'}
          aria-label={`“${key}”: what was done`}
        >
          {Object.entries(ACTIONS).map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </td>
      <td>
        <select
          name={`found ${place}`}
          defaultValue={tie?.found ?? ''}
          aria-label={`“${key}”: the old part was`}
        >
          <option value="">not written</option>
          {Object.entries(FOUND).map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </td>
      <td>
        <select
          name={`positions ${place}`}
          defaultValue={tie?.positions ?? ''}
          aria-label={`“${key}”: which one of several`}
        >
          <option value="">as the row says</option>
          {key.includes('#') && <option value="number">the figure in it</option>}
          <option value="all">all of them</option>
        </select>
      </td>
    </tr>
  )
}
