import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { isTied, saidOf } from '@/lib/intake/workbook/mapping'
import { phrasesOf } from '@/lib/intake/workbook/phrases'
import { Frame } from '../../../../../ui/frame'
import { Link } from '../../../../../ui/link'
import styles from '../../../intake.module.css'
import { Scrolls } from '../../../scrolls'
import { saveWork } from '../actions'
import { readWorkbookPage } from '../read-workbook-page'
import { enginesInUse, wordsOf } from '../words-in-use'
import { PhraseRow } from './phrase-row'

export const metadata: Metadata = { title: 'Work in a workbook' }

const PHRASES_AT_ONCE = 40

type Props = {
  params: Promise<{ id: string }>
  searchParams: Promise<{ from?: string; only?: string }>
}

/** The phrases of free text, by how often each stands, and what each is tied to: once for all rows. */
export default async function WorkPage({ params, searchParams }: Props) {
  const { id } = await params
  const { from = '0', only } = await searchParams
  const page = await readWorkbookPage(id)
  const { profile, mapping, name } = page.workbook
  if (!profile || !mapping) notFound()
  const { count } = page.formats
  const all = phrasesOf(wordsOf(profile, mapping, 'work'))
  const open = all.filter(({ key }) => !isTied(saidOf(mapping.work, key)))
  const listed = only === 'open' ? open : all
  const begin = Math.max(0, Math.min(Number.parseInt(from, 10) || 0, listed.length - 1))
  const shown = listed.slice(begin, begin + PHRASES_AT_ONCE)
  const families = enginesInUse(page.families, mapping)
  const address = (next: number) => `/work?from=${next}${only === 'open' ? '&only=open' : ''}`
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={`/intake/workbook/${id}`}>{name}</Link>
      </p>
      <h1 className={styles.title}>What the phrases stand for</h1>
      <p className={styles.lead}>
        {count(all.length)} different phrases, {count(all.length - open.length)} tied. A figure is written #:
        “inj 3” and “inj 1” are tied once. What is tied to nothing is kept beside: on the vehicle’s time line,
        without effect on any score.
      </p>
      <p className={styles.acts}>
        <Link href={`/intake/workbook/${id}/work`}>All</Link>
        <Link href={`/intake/workbook/${id}/work?only=open`}>Not tied ({count(open.length)})</Link>
      </p>
      {shown.length === 0 ? (
        <p className={styles.lead}>There is none.</p>
      ) : (
        <form action={saveWork}>
          <input type="hidden" name="id" value={id} />
          <input type="hidden" name="back" value={address(begin)} />
          <Scrolls label="The phrases">
            <table className={styles.table}>
              <thead>
                <tr>
                  <th scope="col">Phrase</th>
                  <th scope="col">Times</th>
                  {families.map((family) => (
                    <th scope="col" key={family.key}>
                      {family.name}
                    </th>
                  ))}
                  <th scope="col">What was done</th>
                  <th scope="col">The old part was</th>
                  <th scope="col">Which one</th>
                </tr>
              </thead>
              <tbody>
                {shown.map((phrase, place) => (
                  <PhraseRow
                    key={phrase.key}
                    {...{ phrase, place, families, count }}
                    tie={saidOf(mapping.work, phrase.key) ?? null}
                  />
                ))}
              </tbody>
            </table>
          </Scrolls>
          <p className={styles.acts}>
            <button type="submit" className={styles.act}>
              Keep this
            </button>
            {begin > 0 && (
              <Link href={`/intake/workbook/${id}${address(Math.max(0, begin - PHRASES_AT_ONCE))}`}>
                Those before
              </Link>
            )}
            {begin + PHRASES_AT_ONCE < listed.length && (
              <Link href={`/intake/workbook/${id}${address(begin + PHRASES_AT_ONCE)}`}>The next ones</Link>
            )}
          </p>
        </form>
      )}
    </Frame>
  )
}
