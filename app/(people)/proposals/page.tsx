import type { Metadata } from 'next'
import { isOpen, isSilenced, standingOf } from '@/lib/decisions/proposals'
import { howTheyTurnedOut } from '@/lib/decisions/were-we-right'
import { type Proposal, readProposals } from '@/lib/store/read/proposals'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { ProposalTable } from './proposal-table'
import styles from './proposals.module.css'
import { TurnoutTable } from './turnout-table'

export const metadata: Metadata = { title: PAGE_NAMES.proposals }

/** What was proposed and waits for whom, what is to be written up, and whether we were right. */
export default async function ProposalsPage() {
  const { database, organisation } = await requirePerson()
  const { terms, proposals } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    proposals: await readProposals(scope, { all: true }),
  }))
  const formats = formatsFor(terms, terms.distance)
  const today = dayIn(terms.timeZone, new Date())
  const all = proposals.map((proposal) => ({
    proposal,
    standing: standingOf(proposal, proposal.acts, proposal.works),
  }))
  const open = all.filter(({ standing }) => isOpen(standing))
  const [silent, waiting] = [
    open.filter(({ standing }) => isSilenced(standing, today)),
    open.filter(({ standing }) => !isSilenced(standing, today)),
  ]
  const unwritten = all.filter(({ standing }) => standing.state === 'done')
  return (
    <Frame here="proposals" asOf={`As of ${formats.longDay(today)}`} choices={[]}>
      <h1 className={styles.title}>{PAGE_NAMES.proposals}</h1>
      {all.length === 0 && (
        <p>
          Nothing has been proposed yet. Open a vehicle: under “Next visit” its jobs are proposed by one
          press, and then it says here who is told, what they answer, and whether the part was what we
          thought.
        </p>
      )}
      {all.length > 0 && (
        <p>
          <TwinLinks csv="/proposals.csv" of="all proposals" />
        </p>
      )}
      <ProposalTable title="To be told, answered or done" rows={waiting} formats={formats} />
      <ProposalTable
        title="To be written up: done, and nobody noted what was found"
        rows={unwritten}
        formats={formats}
      />
      <ProposalTable title="Not to be asked before their day" rows={silent} formats={formats} />
      {all.length > 0 && (
        <section className={styles.section}>
          <h2>Were we right?</h2>
          <p>
            A yes is right where the part had failed or was going; a no is where it runs on. Of what was not
            done, it says how many were expected to fail within the horizon of their day, and how many did.
          </p>
          <TurnoutTable
            heading="Weak point"
            groups={howTheyTurnedOut(proposals, ({ name }) => name, today)}
            formats={formats}
          />
          <TurnoutTable
            heading="Told by"
            groups={howTheyTurnedOut(proposals, toldBy, today)}
            formats={formats}
          />
        </section>
      )}
    </Frame>
  )
}

/** Who told them last; who proposed it, where nobody was told. */
const toldBy = ({ acts, madeByName }: Proposal): string | null =>
  acts.findLast(({ act }) => act === 'told')?.byName ?? madeByName
