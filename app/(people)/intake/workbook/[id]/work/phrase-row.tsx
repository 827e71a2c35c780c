import type { Tie } from '@/lib/intake/workbook/mapping'
import type { Family } from '@/lib/records/library'
import { ACTIONS, FOUND } from '../../../../../ui/record-words'
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
      <Choice
        name={`action ${place}`}
        label={`“${key}”: what was done`}
        said={tie?.action ?? 'renew'}
        words={ACTIONS}
      />
      <Choice
        name={`found ${place}`}
        label={`“${key}”: the old part was`}
        said={tie?.found ?? ''}
        words={{ '': 'not written', ...FOUND }}
      />
      <Choice
        name={`positions ${place}`}
        label={`“${key}”: which one of several`}
        said={tie?.positions ?? ''}
        words={{
          '': 'as the row says',
          ...(key.includes('#') ? { number: 'the figure in it' } : {}),
          all: 'all of them',
        }}
      />
    </tr>
  )
}

type ChoiceProps = { name: string; label: string; said: string; words: Record<string, string> }

/** One of a few words, in a cell of its own; what was said already is among them, whatever it is. */
function Choice({ name, label, said, words }: ChoiceProps) {
  const offered = Object.hasOwn(words, said) ? words : { ...words, [said]: said }
  return (
    <td>
      <select name={name} defaultValue={said} aria-label={label}>
        {Object.entries(offered).map(([value, shown]) => (
          <option key={value} value={value}>
            {shown}
          </option>
        ))}
      </select>
    </td>
  )
}
