import { notFound } from 'next/navigation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { answerPdf } from '../../../paper/answer-pdf'
import { readStock } from '../read-stock'
import { stockSheetPaper } from '../stock-paper'

type Context = { params: Promise<{ unit: string }> }

/** The stock sheet as a PDF. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation, organisationName } = await requirePerson()
  const stock = await readStock({ database, organisation }, unit, new Date())
  if (!stock) notFound()
  const { terms } = stock
  const paper = stockSheetPaper(stock, { from: organisationName, formats: formatsFor(terms, terms.distance) })
  return answerPdf([paper], { stem: 'stock-sheet', about: unit }, terms.locale)
}
