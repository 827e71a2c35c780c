import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { STOCK_FILE } from '../../../../ui/page-words'
import { PaperPage } from '../../../paper/paper-page'
import { readStockFile } from '../read-stock-file'
import { stockFilePaper } from '../stock-paper'

type Props = { params: Promise<{ unit: string }> }

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${STOCK_FILE} ${decodeURIComponent((await params).unit)}` }
}

/** What only the house reads of a vehicle for sale. */
export default async function StockFilePage({ params }: Props) {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation, organisationName } = await requirePerson()
  const found = await readStockFile({ database, organisation }, unit, new Date())
  if (!found) notFound()
  const { stock, aside } = found
  const formats = formatsFor(stock.terms, stock.terms.distance)
  const address = `/vehicles/${encodeURIComponent(unit)}`
  return (
    <Frame asOf={null} choices={[]}>
      <PaperPage
        paper={stockFilePaper(stock, aside, { from: organisationName, formats })}
        back={{ address, words: `Back to ${unit}` }}
        pdf={`${address}/stock-file.pdf`}
      />
    </Frame>
  )
}
