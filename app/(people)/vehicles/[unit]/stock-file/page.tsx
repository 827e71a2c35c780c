import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { vehicleSetAside } from '@/lib/jobs/set-aside'
import { knownFaults } from '@/lib/records/engine-story'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { AdviceMark } from '../../../../ui/advice-mark'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { CAUTION, NOT_COVERED, STOCK_FILE, STOP_ORDERS } from '../../../../ui/words'
import { readStock } from '../read-stock'
import { amountsWords, coverWords, gradeWords } from '../set-aside/aside-words'
import styles from '../stock.module.css'
import { StockHead } from '../stock-head'
import { StockLines } from '../stock-lines'
import { faultWords, moneyWords, sinceWords, whoWords } from '../stock-words'

type Props = { params: Promise<{ unit: string }> }

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${STOCK_FILE} ${decodeURIComponent((await params).unit)}` }
}

/** For the house alone: the sheet, with what is known to be wrong, what was paid and what may be to come. */
export default async function StockFilePage({ params }: Props) {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation } = await requirePerson()
  const now = new Date()
  const found = await readStock({ database, organisation }, unit, now)
  if (!found) notFound()
  const { terms, head, story, family, vehicle, today } = found
  const aside = await withOrganisation(database, organisation, (scope) =>
    vehicleSetAside(scope, { unit, cover: null, excluded: [], claimLimit: null }, now),
  )
  const formats = formatsFor(terms, terms.distance)
  const faults = knownFaults(story, family)
  return (
    <Frame asOf={null} choices={[]}>
      <StockHead
        {...{ title: STOCK_FILE, head, formats }}
        who={['For the house alone: not to be handed out.', ...whoWords(vehicle, family, formats)]}
        made={formats.longDay(today)}
      />
      {head.score?.standing === 'stop' && (
        <p>
          <AdviceMark standing="stop" /> {STOP_ORDERS}
        </p>
      )}
      {story.since !== null && <p>{sinceWords(story.since, formats)}</p>}
      <section className={styles.section} aria-labelledby="faults">
        <h2 id="faults">Faults known</h2>
        {faults.length === 0 ? (
          <p>None on record that no later record has settled.</p>
        ) : (
          <>
            <p className={styles.mark}>Check what you must disclose.</p>
            <ul>
              {faults.map((fault) => (
                <li key={`${fault.on} ${faultWords(fault, family, formats)}`}>
                  {formats.day(fault.on)}: {faultWords(fault, family, formats)}
                </li>
              ))}
            </ul>
          </>
        )}
      </section>
      <section className={styles.section} aria-labelledby="amounts">
        <h2 id="amounts">Amounts</h2>
        <p>{moneyWords(vehicle, formats)}</p>
        {aside ? (
          <>
            <p>
              To set aside for a cover of {coverWords(aside.cover, formats)}.{' '}
              {amountsWords(aside.amounts, formats).join(' ')}
            </p>
            <p>{gradeWords(aside, formats)}</p>
          </>
        ) : (
          <p>It is not assessed, so what to set aside cannot be said.</p>
        )}
      </section>
      <StockLines {...{ story, family, formats }} />
      <footer className={styles.foot}>
        <p>Only the weak points of its engine are covered; {NOT_COVERED}.</p>
        <p>{CAUTION}</p>
      </footer>
    </Frame>
  )
}
