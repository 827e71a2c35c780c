import { notFound } from 'next/navigation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { answerPdf } from '../../../paper/answer-pdf'
import { readStockFile } from '../read-stock-file'
import { stockFilePaper } from '../stock-paper'

type Context = { params: Promise<{ unit: string }> }

/** The stock file as a PDF: for the house alone. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation, organisationName } = await requirePerson()
  const found = await readStockFile({ database, organisation }, unit, new Date())
  if (!found) notFound()
  const { stock, aside } = found
  const { terms } = stock
  const told = { from: organisationName, formats: formatsFor(terms, terms.distance) }
  return answerPdf([stockFilePaper(stock, aside, told)], { stem: 'stock-file', about: unit }, terms.locale)
}
