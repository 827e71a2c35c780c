import type { Metadata } from 'next'
import { type LooksToMake, looksToMake } from '@/lib/jobs/looks-to-make'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { CAUTION } from '../../ui/words'
import styles from './looks.module.css'
import { type LooksView, looksAddress, looksAsked } from './looks-asked'
import { LooksForm } from './looks-form'
import { Rounds, Unscanned } from './looks-sections'
import { LooksTable } from './looks-table'
import { firstWords } from './looks-words'

export const metadata: Metadata = { title: PAGE_NAMES.looks }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** Which vehicles to look at next and at what, by what looking can change. */
export default async function LooksPage({ searchParams }: Props) {
  const asked = looksAsked(await searchParams)
  const { database, organisation } = await requirePerson()
  const { terms, found } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    found: await looksToMake(scope, asked),
  }))
  const formats = formatsFor(terms, terms.distance)
  const asOf = found.asOf === null ? null : `All numbers as of ${formats.longDay(found.asOf)}`
  return (
    <Frame here="looks" asOf={asOf} choices={[]}>
      <div className={styles.page}>
        <h1>{PAGE_NAMES.looks}</h1>
        {found.assessed === 0 ? <NothingScored /> : <Found {...{ found, asked, formats }} />}
      </div>
    </Frame>
  )
}

function NothingScored() {
  return (
    <p>
      No vehicle is assessed yet, so that nothing can be said of looks. First{' '}
      <Link href="/intake">bring in records</Link> or <Link href="/new-vehicle">add a vehicle</Link> whose
      engine is in <Link href="/families">the library</Link>.
    </p>
  )
}

function Found({ found, asked, formats }: { found: LooksToMake; asked: LooksView; formats: Formats }) {
  const { looks, inAll, notDriven, assessed, neverLookedAt } = found
  return (
    <>
      {neverLookedAt === assessed && (
        <p className={styles.notice}>
          Nobody has looked yet: everything here rests on mileage and on what the library states.
        </p>
      )}
      <p className={styles.first}>
        {inAll === 0
          ? 'No look is worth its cost just now: none of them would change what is right to do.'
          : firstWords(found, asked.hours, formats)}
      </p>
      <LooksForm asked={asked} sites={found.sites} />
      {looks.length > 0 && (
        <>
          <LooksTable {...{ looks, asked, formats }} />
          <p className={styles.acts}>
            <TwinLinks csv={looksAddress(asked, '/looks.csv')} of="these looks" />
          </p>
          <p className={styles.soft}>
            Each look is weighed as if it were the only one at its vehicle, by what would be done after it:
            two looks at one vehicle may together be worth more or less than their sum. What was looked for
            lately is left out.
          </p>
        </>
      )}
      {notDriven > 0 && (
        <p className={styles.soft}>
          Left out: drives on vehicles that must not be driven ({formats.count(notDriven)}).
        </p>
      )}
      <Rounds {...{ found, asked, formats }} />
      <Unscanned {...{ found, asked, formats }} />
      <p className={styles.foot}>{CAUTION}</p>
    </>
  )
}
