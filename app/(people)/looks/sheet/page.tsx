import type { Metadata } from 'next'
import { can } from '@/lib/people/permissions'
import { requirePerson } from '../../../require-person'
import { Frame } from '../../../ui/frame'
import { Link } from '../../../ui/link'
import { LOOK_SHEET } from '../../../ui/page-words'
import { PaperPage } from '../../paper/paper-page'
import { addressOfPlace } from '../../vehicles/[unit]/place'
import { BOXES } from '../boxes'
import { sheetAddress } from '../looks-asked'
import { sheetsAsked } from '../sheets-asked'
import styles from './sheet.module.css'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

export const metadata: Metadata = { title: LOOK_SHEET }

/** What to look for on each vehicle, a page each, to take along. */
export default async function LookSheetPage({ searchParams }: Props) {
  const present = await requirePerson()
  const { units, kind, sheets } = await sheetsAsked(present, await searchParams, BOXES.page)
  const missing = [...new Set(units)].length - sheets.length
  return (
    <Frame here="looks" asOf={null} choices={[]}>
      {sheets.length === 0 && (
        <>
          <h1>{LOOK_SHEET}</h1>
          <p>
            {units.length === 0
              ? 'No vehicle was chosen: tick some under '
              : 'The library knows the engine of none of these vehicles: choose others under '}
            <Link href="/looks">Looks</Link>.
          </p>
        </>
      )}
      {sheets.length > 0 && missing > 0 && (
        <p className={styles.ways} role="status">
          {missing === 1 ? 'One of the vehicles has' : `${missing} of the vehicles have`} no sheet: there are
          at most 60 at once, of engines that the library knows.
        </p>
      )}
      {sheets.map(({ unit, paper }) => (
        <div key={unit} className={`${styles.sheet} ${styles.boxes}`}>
          <PaperPage
            paper={paper}
            back={
              can(present.role, 'enter-records')
                ? {
                    address: addressOfPlace(`/vehicles/${encodeURIComponent(unit)}`, enterOf(kind), 'enter'),
                    words: `Enter what was seen on ${unit}`,
                  }
                : { address: `/vehicles/${encodeURIComponent(unit)}`, words: `Back to ${unit}` }
            }
            pdf={sheetAddress([unit], kind, '/looks/sheet.pdf')}
          />
        </div>
      ))}
    </Frame>
  )
}

const enterOf = (kind: Parameters<typeof sheetAddress>[1]) =>
  ({ enter: kind === 'scan' ? 'codes' : 'look' }) as const
