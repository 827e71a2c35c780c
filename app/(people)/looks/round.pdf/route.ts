import { notFound } from 'next/navigation'
import { requirePerson } from '../../../require-person'
import { answerPdf } from '../../paper/answer-pdf'
import { parametersIn } from '../../parameters-in'
import { BOXES } from '../boxes'
import { roundAsked } from '../round-asked'

/** The list of a walk round as a PDF. */
export async function GET(request: Request): Promise<Response> {
  const present = await requirePerson()
  const { paper, round, terms } = await roundAsked(
    present,
    parametersIn(new URL(request.url).searchParams),
    BOXES.pdf,
  )
  if (!paper || !round) notFound()
  return answerPdf(
    [paper],
    { stem: 'walk-round', about: [round.kind, round.site].filter(Boolean).join('-') },
    terms.locale,
  )
}
