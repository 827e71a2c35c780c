import { notFound, redirect } from 'next/navigation'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn, formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { CAUTION } from '../../../ui/words'
import { answerPdf } from '../../paper/answer-pdf'
import { type Paper, textSection } from '../../paper/paper'
import { jobCardPaper } from '../../vehicles/[unit]/job-card-paper'
import { readJobCard } from '../../vehicles/[unit]/read-job-card'

/** Drawing one takes a good part of a second. */
const MOST_CARDS = 40
const OF_NEXT = { visiting: { hereNow: false, hoursFree: null } }

/** The job cards of the vehicles that were ticked, a page each, to be printed in one go. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation, organisationName } = await requirePerson()
  const units = [...new Set(new URL(request.url).searchParams.getAll('unit'))]
  if (units.length === 0) redirect('/visits')
  const [shown, others] = [units.slice(0, MOST_CARDS), units.slice(MOST_CARDS)]
  const now = new Date()
  const { terms, cards } = await withOrganisation(database, organisation, async (scope) => {
    const cards = []
    for (const unit of shown) cards.push(await readJobCard(scope, { unit, of: OF_NEXT }, now))
    return { terms: await readTerms(scope), cards: cards.filter((card) => card !== null) }
  })
  if (cards.length === 0) notFound()
  const formats = formatsFor(terms, terms.distance)
  const papers = cards.map((card) => jobCardPaper(card, organisationName, formats))
  if (others.length > 0) papers.push(othersPaper(others, organisationName))
  const day = formatDay(dayIn(terms.timeZone, now))
  return answerPdf(papers, { stem: 'job-cards', about: day }, terms.locale)
}

/** That these were asked for as well, and have no card here. */
const othersPaper = (units: string[], from: string): Paper => ({
  ...{
    from,
    title: `Without a card: ${units.length} more`,
    lines: [],
    alarm: null,
    blanks: [],
    foot: [CAUTION],
  },
  sections: [
    textSection(null, [
      `At most ${MOST_CARDS} cards are made in one go. Ask again for these:`,
      units.join(', '),
    ]),
  ],
})
