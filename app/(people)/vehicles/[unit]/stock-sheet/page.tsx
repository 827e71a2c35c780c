import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { STOCK_SHEET } from '../../../../ui/page-words'
import { PaperPage } from '../../../paper/paper-page'
import { readStock } from '../read-stock'
import { stockSheetPaper } from '../stock-paper'

type Props = { params: Promise<{ unit: string }> }

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${STOCK_SHEET} ${decodeURIComponent((await params).unit)}` }
}

/** What whoever may buy the vehicle reads of it. */
export default async function StockSheetPage({ params }: Props) {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation, organisationName } = await requirePerson()
  const stock = await readStock({ database, organisation }, unit, new Date())
  if (!stock) notFound()
  const formats = formatsFor(stock.terms, stock.terms.distance)
  const address = `/vehicles/${encodeURIComponent(unit)}`
  return (
    <Frame asOf={null} choices={[]}>
      <PaperPage
        paper={stockSheetPaper(stock, { from: organisationName, formats })}
        back={{ address, words: `Back to ${unit}` }}
        pdf={`${address}/stock-sheet.pdf`}
      />
    </Frame>
  )
}
