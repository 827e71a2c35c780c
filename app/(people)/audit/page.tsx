import type { Metadata } from 'next'
import { readAuditActors, readAuditLines } from '@/lib/store/read/audit-lines'
import { readNamesOf } from '@/lib/store/read/names-of'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { twinAddress } from '../twins/twin-address'
import styles from './audit.module.css'
import { type AuditAsked, auditAsked, auditParameters } from './audit-asked'
import { AuditFilter } from './audit-filter'
import { AuditTable } from './audit-table'
import { namedIn } from './audit-words'

export const metadata: Metadata = { title: PAGE_NAMES.audit }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

const LINES_A_PAGE = 100

/** Who changed what, when, and how it was before: for whoever answers for the organisation. */
export default async function AuditPage({ searchParams }: Props) {
  const { database, organisation } = await requirePerson('read-audit')
  const { asked, dropped } = auditAsked(await searchParams)
  const { terms, found, actors, names } = await withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const actors = await readAuditActors(scope)
    return {
      ...{ terms, actors },
      found: await readAuditLines(scope, { ...asked, timeZone: terms.timeZone, most: LINES_A_PAGE }),
      names: await readNamesOf(scope, namedIn(actors)),
    }
  })
  return (
    <Frame here="audit" asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>{PAGE_NAMES.audit}</h1>
        <p className={styles.soft}>
          Every change, by whom and when, and how it was before. The database writes it with the change
          itself; nobody can change or remove a line, and the command <code>npm run audit</code> shows that
          nobody did. Changes of more than twenty rows at once are counted. What is reckoned (scores, amounts)
          is not in it.
        </p>
        {dropped.length > 0 && <p role="status">Left out, for it means nothing here: {dropped.join(', ')}</p>}
        <AuditFilter {...{ asked, actors, names }} />
        {found.lines.length === 0 ? (
          <Nothing asked={asked} />
        ) : (
          <AuditTable lines={found.lines} names={names} formats={formatsFor(terms, terms.distance)} />
        )}
        <Ways asked={asked} next={found.next} />
      </div>
    </Frame>
  )
}

function Nothing({ asked }: { asked: AuditAsked }) {
  if (Object.values(asked).every((value) => value === null))
    return <p>Nothing has been changed yet since lines are written.</p>
  return (
    <p>
      No line is like that. <Link href="/audit">Show everything</Link>, or ask for less above.
    </p>
  )
}

/** To the lines before these, back to the newest, and the same as data. */
function Ways({ asked, next }: { asked: AuditAsked; next: number | null }) {
  const at = (before: number | null) => twinAddress('/audit', auditParameters({ ...asked, before }))
  return (
    <nav className={styles.ways} aria-label="More lines">
      {next !== null && <Link href={at(next)}>Earlier lines</Link>}
      {asked.before !== null && <Link href={at(null)}>The newest again</Link>}
      <TwinLinks csv={twinAddress('/audit.csv', auditParameters(asked))} of="these lines" />
    </nav>
  )
}
