import type { EngineStory } from '@/lib/records/engine-story'
import type { Family } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../../ui/formats'
import styles from './stock.module.css'
import { codeWords, lookWords, workWords } from './stock-words'

type Props = { story: EngineStory; family: Family | null; formats: Formats }
type Line = { on: Day; odometerKm: number | null; words: string }

const MOST_LOOKS = 12

/** What was looked at and what was renewed on this engine, with the day of each; the latest first. */
export function StockLines({ story, family, formats }: Props) {
  const looks = looksIn(story, family, formats)
  const works = story.repairs.flatMap((row) => {
    const words = workWords(row, family)
    return words === null ? [] : { on: row.doneOn, odometerKm: row.odometerKm, words }
  })
  const shown = newest(looks).slice(0, MOST_LOOKS)
  return (
    <>
      <section className={styles.section} aria-labelledby="looked">
        <h2 id="looked">Looked at, and seen</h2>
        {shown.length === 0 ? (
          <p>No look at this engine is on record.</p>
        ) : (
          <Lines lines={shown} caption="Looks" formats={formats} />
        )}
        {looks.length > shown.length && (
          <p>
            And {formats.count(looks.length - shown.length)} earlier ones, from{' '}
            {formats.day(looks.reduce((first, { on }) => Math.min(first, on), Number.POSITIVE_INFINITY))} on.
          </p>
        )}
      </section>
      <section className={styles.section} aria-labelledby="done">
        <h2 id="done">Work on its weak points</h2>
        {works.length === 0 ? (
          <p>None is on record.</p>
        ) : (
          <Lines lines={newest(works)} caption="Work" formats={formats} />
        )}
      </section>
    </>
  )
}

const newest = (lines: readonly Line[]) => [...lines].sort((a, b) => b.on - a.on)

function looksIn({ checks, codes }: EngineStory, family: Family | null, formats: Formats): Line[] {
  return [
    ...checks.map((row) => ({
      ...{ on: row.checkedOn, odometerKm: row.odometerKm },
      words: lookWords(row, family),
    })),
    ...codes.map((row) => ({
      ...{ on: row.seenOn, odometerKm: row.odometerKm },
      words: codeWords(row, formats),
    })),
  ]
}

function Lines({ lines, caption, formats }: { lines: Line[]; caption: string; formats: Formats }) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">{caption}</caption>
      <thead>
        <tr>
          <th scope="col">Day</th>
          <th scope="col">Odometer</th>
          <th scope="col">What</th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ on, odometerKm, words }, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a list that never changes, in which two lines may be alike
          <tr key={`${on} ${words} ${i}`}>
            <th scope="row">{formats.day(on)}</th>
            <td>{odometerKm === null ? 'not noted' : formats.distance(odometerKm)}</td>
            <td>{words}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
