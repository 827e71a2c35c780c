import { notFound } from 'next/navigation'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { answerPdf } from '../../../paper/answer-pdf'
import { parametersIn } from '../../../parameters-in'
import { parseView } from '../../../view'
import { jobCardPaper } from '../job-card-paper'
import { placeIn, plannedIn, visitingAt } from '../place'
import { readJobCard } from '../read-job-card'

type Context = { params: Promise<{ unit: string }> }

/** The job card as a PDF. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation, organisationName } = await requirePerson()
  const parameters = parametersIn(new URL(request.url).searchParams)
  const planned = plannedIn(parameters)
  const of = planned === null ? { visiting: visitingAt(placeIn(parameters)) } : { planned }
  const found = await withOrganisation(database, organisation, (scope) =>
    readJobCard(scope, { unit, of }, new Date()),
  )
  if (!found) notFound()
  const { terms } = found
  const { view } = parseView(parameters, terms.distance)
  const paper = jobCardPaper(found, organisationName, formatsFor(terms, view.distance))
  return answerPdf([paper], { stem: 'job-card', about: unit }, terms.locale)
}
