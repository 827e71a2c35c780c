import { notFound } from 'next/navigation'
import { requirePerson } from '../../../require-person'
import { answerPdf } from '../../paper/answer-pdf'
import { parametersIn } from '../../parameters-in'
import { BOXES } from '../boxes'
import { sheetsAsked } from '../sheets-asked'

/** The look sheets as a PDF, a page each. */
export async function GET(request: Request): Promise<Response> {
  const present = await requirePerson()
  const { sheets, terms } = await sheetsAsked(
    present,
    parametersIn(new URL(request.url).searchParams),
    BOXES.pdf,
  )
  const [first] = sheets
  if (!first) notFound()
  const about = sheets.length === 1 ? first.unit : String(sheets.length)
  return answerPdf(
    sheets.map(({ paper }) => paper),
    { stem: 'look-sheet', about },
    terms.locale,
  )
}
