import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { CAUTION, STOCK_SHEET } from '../../../../ui/words'
import { readStock } from '../read-stock'
import styles from '../stock.module.css'
import { StockHead } from '../stock-head'
import { StockLines } from '../stock-lines'
import { sinceWords, whoWords } from '../stock-words'

type Props = { params: Promise<{ unit: string }> }

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${STOCK_SHEET} ${decodeURIComponent((await params).unit)}` }
}

/** For whoever may buy the vehicle: who it is and what was seen and done. No amounts, no names. */
export default async function StockSheetPage({ params }: Props) {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation } = await requirePerson()
  const found = await readStock({ database, organisation }, unit, new Date())
  if (!found) notFound()
  const { terms, head, story, family, vehicle, today } = found
  const formats = formatsFor(terms, terms.distance)
  return (
    <Frame asOf={null} choices={[]}>
      <StockHead
        {...{ title: STOCK_SHEET, head, formats }}
        who={whoWords(vehicle, family, formats)}
        made={formats.longDay(today)}
      />
      {story.since !== null && <p>{sinceWords(story.since, formats)}</p>}
      <StockLines {...{ story, family, formats }} />
      <footer className={styles.foot}>
        <p>
          <strong>Not covered by this sheet:</strong> brakes, steering, tyres, bodywork and whatever else is
          no weak point of its engine. It says what is on record, and that is no warranty: what nobody looked
          at, nobody has seen.
        </p>
        <p>{CAUTION}</p>
      </footer>
    </Frame>
  )
}
