import { notFound } from 'next/navigation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { answerPdf } from '../../../paper/answer-pdf'
import { letterPaper } from '../letter/letter-paper'
import { readLetterPage } from '../letter/read-letter-page'

type Context = { params: Promise<{ unit: string }> }

/** The letter as a PDF; there is none where nobody is to be written to. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation } = await requirePerson()
  const found = await readLetterPage({ database, organisation }, unit, new Date())
  if (!found?.letter) notFound()
  const { letter, terms } = found
  const paper = letterPaper(letter, formatsFor(terms, terms.distance))
  return answerPdf([paper], { stem: 'letter', about: unit }, terms.locale)
}
