import { type Standing, standingOf } from '@/lib/decisions/proposals'
import { type Proposal, readProposals } from '@/lib/store/read/proposals'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { formatsFor } from '../../ui/formats'
import { ADVICE } from '../../ui/words'
import type { Twin } from '../twins/answer-twin'
import { dayCell, told } from '../twins/twin'
import { jobName, standingWords } from '../vehicles/[unit]/proposal-words'

type Row = { proposal: Proposal; standing: Standing }

/** Every proposal, the latest first, with how it stands. */
export const proposalsTwin: Twin = async ({ database, organisation, now }) => {
  const { terms, proposals } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    proposals: await readProposals(scope, { all: true }),
  }))
  const { currency } = terms
  const formats = formatsFor(terms, terms.distance)
  const highest = ({ chances }: Proposal) => Math.max(...chances.map(({ pFail }) => pFail))
  return told<Row>(
    'proposals',
    dayIn(terms.timeZone, now),
    [
      ['unit', 'Vehicle', ({ proposal }) => proposal.unit],
      ['plate', 'Plate', ({ proposal }) => proposal.plate],
      ['customer', 'Customer', ({ proposal }) => proposal.customer],
      ['job', 'Job', ({ proposal }) => jobName(proposal, proposal.positions)],
      ['state', 'State', ({ standing }) => standing.state],
      ['standing', 'How it stands', ({ standing }) => standingWords(standing, formats)],
      ['made_on', 'Proposed on', ({ proposal }) => dayCell(proposal.madeOn)],
      ['made_by', 'Proposed by', ({ proposal }) => proposal.madeByName],
      ['advice', 'Advice then', ({ proposal }) => ADVICE[proposal.advice]],
      ['p_fail', 'Chance then, the highest', ({ proposal }) => highest(proposal)],
      ['horizon_days', 'Chance within', ({ proposal }) => proposal.horizonDays, 'days'],
      ['hours', 'Hours', ({ proposal }) => proposal.hours],
      ['price', 'Price', ({ proposal }) => proposal.price, currency],
      ['saving', 'Saves', ({ proposal }) => proposal.saving, currency],
      ['saving_low', 'Saves, low end of its 80 % band', ({ proposal }) => proposal.savingLow, currency],
      ['saving_high', 'Saves, high end of its 80 % band', ({ proposal }) => proposal.savingHigh, currency],
      ['evidence', 'What spoke for it', ({ proposal }) => proposal.evidence],
    ],
    proposals.map((proposal) => ({
      proposal,
      standing: standingOf(proposal, proposal.acts, proposal.works),
    })),
  )
}
