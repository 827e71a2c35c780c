import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { JOB_CARD } from '../../../../ui/page-words'
import { PaperPage } from '../../../paper/paper-page'
import { visitAddress } from '../../../plan/plan-address'
import { parseView, vehicleAddress } from '../../../view'
import { jobCardPaper } from '../job-card-paper'
import { addressOfPlace, placeIn, plannedIn, visitingAt } from '../place'
import { readJobCard } from '../read-job-card'

type Props = {
  params: Promise<{ unit: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${JOB_CARD} ${decodeURIComponent((await params).unit)}` }
}

/** What to do on a visit and what to mind, on one sheet, with room for what is found. */
export default async function JobCardPage({ params, searchParams }: Props) {
  const [unit, parameters] = [decodeURIComponent((await params).unit), await searchParams]
  const { database, organisation, organisationName } = await requirePerson()
  const [place, planned] = [placeIn(parameters), plannedIn(parameters)]
  const of = planned === null ? { visiting: visitingAt(place) } : { planned }
  const found = await withOrganisation(database, organisation, (scope) =>
    readJobCard(scope, { unit, of }, new Date()),
  )
  if (!found) notFound()
  const { view } = parseView(parameters, found.terms.distance)
  const page = vehicleAddress(unit, view, found.terms.distance)
  const { here, hours, shelf } = place
  const pdf = `/vehicles/${encodeURIComponent(unit)}/job-card.pdf`
  return (
    <Frame asOf={null} choices={[]}>
      <PaperPage
        paper={jobCardPaper(found, organisationName, formatsFor(found.terms, view.distance))}
        back={
          planned === null
            ? { address: addressOfPlace(page, { here, hours, shelf }, 'visit'), words: `Back to ${unit}` }
            : { address: visitAddress(planned), words: 'Back to the plan' }
        }
        pdf={
          planned === null
            ? addressOfPlace(pdf, { here, hours, shelf })
            : `${pdf}?visit=${encodeURIComponent(planned)}`
        }
      />
    </Frame>
  )
}
