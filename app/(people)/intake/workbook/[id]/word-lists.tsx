import { isTied, type Mapping, MEANING_KEYS, MEANINGS, saidOf } from '@/lib/intake/workbook/mapping'
import { phrasesOf } from '@/lib/intake/workbook/phrases'
import type { WorkbookProfile } from '@/lib/intake/workbook/profile'
import type { StoredWorkbook } from '@/lib/store/read/workbook'
import type { Formats } from '../../../../ui/formats'
import { Link } from '../../../../ui/link'
import styles from '../../intake.module.css'
import { MEANING_WORDS } from '../words'
import { tiedCounts, wordsOf } from './words-in-use'

type Props = { workbook: StoredWorkbook; profile: WorkbookProfile; mapping: Mapping; formats: Formats }

/** The words and phrases of the workbook that stand for something: how many, and how many are not tied yet. */
export function WordLists({ workbook, profile, mapping, formats: { count } }: Props) {
  const lists = MEANING_KEYS.filter((meaning) => MEANINGS[meaning].reads === 'words')
    .map((meaning) => ({ meaning, ...tiedCounts(profile, mapping, meaning) }))
    .filter(({ words }) => words > 0)
  const phrases = phrasesOf(wordsOf(profile, mapping, 'work'))
  const openPhrases = phrases.filter(({ key }) => !isTied(saidOf(mapping.work, key))).length
  if (lists.length === 0 && phrases.length === 0) return null
  const line = (all: number, open: number) =>
    `${count(all)} different, ${open === 0 ? 'all of them tied' : `${count(open)} tied to nothing`}`
  return (
    <section className={styles.section} aria-labelledby="words">
      <h2 id="words">What its words stand for</h2>
      <ul className={styles.notices}>
        {lists.map(({ meaning, words, open }) => (
          <li key={meaning}>
            <Link href={`/intake/workbook/${workbook.id}/words/${meaning}`}>{MEANING_WORDS[meaning]}</Link>:{' '}
            {line(words, open)}
          </li>
        ))}
        {phrases.length > 0 && (
          <li>
            <Link href={`/intake/workbook/${workbook.id}/work`}>{MEANING_WORDS.work}</Link>:{' '}
            {line(phrases.length, openPhrases)}
          </li>
        )}
      </ul>
    </section>
  )
}
