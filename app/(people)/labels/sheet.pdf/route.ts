import { notFound } from 'next/navigation'
import { requirePerson } from '../../../require-person'
import { pdfAnswer } from '../../paper/answer-pdf'
import { sheetOf } from '../../paper/paper-pdf'
import { parametersIn } from '../../parameters-in'
import { labelsAsPdf } from '../label-pdf'
import { labelsAsked } from '../labels-asked'
import { readLabelsAsked } from '../read-labels-asked'

/** The labels as a PDF. Whoever holds one may report by it: they are for those who may enter records. */
export async function GET(request: Request): Promise<Response> {
  const present = await requirePerson('enter-records')
  const view = labelsAsked(parametersIn(new URL(request.url).searchParams))
  const { labels, terms } = await readLabelsAsked(present, view)
  const [first] = labels
  if (!first) notFound()
  const about = labels.length === 1 ? first.unit : String(labels.length)
  return pdfAnswer(await labelsAsPdf(labels, view.size, sheetOf(terms.locale)), { stem: 'labels', about })
}
