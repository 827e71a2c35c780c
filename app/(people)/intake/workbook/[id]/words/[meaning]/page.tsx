import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { z } from 'zod'
import { MEANING_KEYS, MEANINGS, saidOf, wordKey } from '@/lib/intake/workbook/mapping'
import { Frame } from '../../../../../../ui/frame'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../intake.module.css'
import { Scrolls } from '../../../../scrolls'
import { MEANING_WORDS } from '../../../words'
import { saveWords } from '../../actions'
import { readWorkbookPage } from '../../read-workbook-page'
import { type Target, targetsOf, wordsOf } from '../../words-in-use'

export const metadata: Metadata = { title: 'Words of a workbook' }

type Props = { params: Promise<{ id: string; meaning: string }> }

/** The different words of a kind of column, the commonest first, and what each stands for. */
export default async function WordsPage({ params }: Props) {
  const { id, meaning: asked } = await params
  const meaning = z.enum(MEANING_KEYS).safeParse(asked)
  const page = await readWorkbookPage(id)
  if (!meaning.success || MEANINGS[meaning.data].reads !== 'words') notFound()
  const { profile, mapping, name } = page.workbook
  if (!profile || !mapping) notFound()
  const words = wordsOf(profile, mapping, meaning.data)
  const targets = targetsOf(meaning.data, page.families)
  const said = mapping.values[meaning.data] ?? {}
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={`/intake/workbook/${id}`}>{name}</Link>
      </p>
      <h1 className={styles.title}>What the words stand for: {MEANING_WORDS[meaning.data]}</h1>
      <p className={styles.lead}>
        {LEADS[meaning.data] ?? 'Words that stand for nothing here are left out.'}
      </p>
      <form action={saveWords}>
        <input type="hidden" name="id" value={id} />
        <input type="hidden" name="meaning" value={meaning.data} />
        <Scrolls label="The words">
          <table className={styles.table}>
            <thead>
              <tr>
                <th scope="col">Written</th>
                <th scope="col">Rows</th>
                <th scope="col">Stands for</th>
              </tr>
            </thead>
            <tbody>
              {words.map(({ text, count }) => (
                <tr key={text}>
                  <th scope="row">{text}</th>
                  <td className={styles.number}>{page.formats.count(count)}</td>
                  <td>
                    <select
                      name={`word ${wordKey(text)}`}
                      defaultValue={saidOf(said, wordKey(text)) ?? ''}
                      aria-label={`“${text}” stands for`}
                    >
                      <option value="">nothing here</option>
                      {withStanding(targets, saidOf(said, wordKey(text))).map(({ value, label }) => (
                        <option key={value} value={value}>
                          {label}
                        </option>
                      ))}
                    </select>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scrolls>
        <p className={styles.acts}>
          <button type="submit" className={styles.act}>
            Keep this
          </button>
        </p>
      </form>
    </Frame>
  )
}

/** What a word stands for already may be no single choice: several signs. */
const withStanding = (targets: readonly Target[], said: string | undefined): readonly Target[] =>
  !said || targets.some(({ value }) => value === said) ? targets : [...targets, { value: said, label: said }]

const LEADS: Record<string, string> = {
  engine:
    'Tie each to an engine of the library. Vehicles of one that is tied to nothing come in all the same, and are not assessed until the library has their engine.',
  signs: 'Tie each to what it shows. What is tied to nothing is not taken as a look.',
}
