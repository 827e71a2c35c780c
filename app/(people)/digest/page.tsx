import type { Metadata } from 'next'
import { readDigest } from '@/lib/jobs/digest'
import { type DigestSection, digestText } from '@/lib/jobs/digest-words'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn, formatDay, parseDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { CAUTION } from '../../ui/words'
import styles from './digest.module.css'

export const metadata: Metadata = { title: PAGE_NAMES.digest }

type Props = { searchParams: Promise<{ to?: string | string[] }> }

const WEEK_DAYS = 7
const at = (to: number) => `/digest?to=${formatDay(to)}`

/** What seven days brought, and what waits; the days are chosen by the address. */
export default async function DigestPage({ searchParams }: Props) {
  const { database, organisation } = await requirePerson()
  const asked = [(await searchParams).to ?? []].flat()[0]
  const now = new Date()
  const digest = await withOrganisation(database, organisation, (scope) =>
    readDigest(scope, asked === undefined ? null : parseDay(asked), now),
  )
  const { to, terms } = digest
  const { title, lead, sections } = digestText(digest)
  const today = dayIn(terms.timeZone, now)
  return (
    <Frame here="digest" asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>{title}</h1>
        <p className={styles.lead}>{lead}</p>
        {asked !== undefined && parseDay(asked) === null && (
          <p role="status">“{asked}” is no day, so it is the week up to yesterday.</p>
        )}
        <nav className={styles.weeks} aria-label="Which week">
          <Link href={at(to - WEEK_DAYS)}>The week before</Link>
          {to < today - 1 && <Link href={at(Math.min(to + WEEK_DAYS, today - 1))}>The week after</Link>}
          <Link href="/settings#mail">By mail</Link>
        </nav>
        {sections.map((section) => (
          <Section key={section.key} section={section} />
        ))}
        <p className={styles.foot}>{CAUTION}</p>
      </div>
    </Frame>
  )
}

function Section({ section: { key, heading, lines, note } }: { section: DigestSection }) {
  return (
    <section className={key === 'untold' || key === 'stops' ? styles.stop : undefined}>
      <h2>{heading}</h2>
      {lines.length > 0 && (
        <ul>
          {lines.map(({ text, address }) => (
            <li key={text}>
              <Link href={address}>{text}</Link>
            </li>
          ))}
        </ul>
      )}
      {note && (
        <p>
          <Link href={note.address}>{note.text}</Link>
        </p>
      )}
    </section>
  )
}
