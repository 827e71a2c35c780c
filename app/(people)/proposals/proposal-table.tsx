import type { Standing } from '@/lib/decisions/proposals'
import type { Proposal } from '@/lib/store/read/proposals'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { Scrolls } from '../intake/scrolls'
import { jobName, savingWords, standingWords } from '../vehicles/[unit]/proposal-words'
import styles from './proposals.module.css'

type Props = { title: string; rows: { proposal: Proposal; standing: Standing }[]; formats: Formats }

/** Proposals, each with what it waits for; nothing where there are none. */
export function ProposalTable({ title, rows, formats }: Props) {
  if (rows.length === 0) return null
  return (
    <section className={styles.section}>
      <h2>{title}</h2>
      <Scrolls label={title}>
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">Vehicle</th>
              <th scope="col">Job</th>
              <th scope="col">How it stands</th>
              <th scope="col">Proposed</th>
              <th scope="col" className={styles.number}>
                Price
              </th>
              <th scope="col" className={styles.number}>
                Saves
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ proposal, standing }) => (
              <tr key={proposal.id}>
                <th scope="row">
                  <Link href={`/vehicles/${encodeURIComponent(proposal.unit)}#proposals`}>
                    {proposal.unit}
                  </Link>{' '}
                  <small>{proposal.customer ?? proposal.plate}</small>
                </th>
                <td>{jobName(proposal, proposal.positions)}</td>
                <td>{standingWords(standing, formats)}</td>
                <td>
                  {formats.day(proposal.madeOn)} <small>{proposal.madeByName}</small>
                </td>
                <td className={styles.number}>{formats.money(proposal.price)}</td>
                <td className={styles.number}>
                  {proposal.saving !== null &&
                    savingWords(
                      {
                        saving: proposal.saving,
                        low: proposal.savingLow ?? proposal.saving,
                        high: proposal.savingHigh ?? proposal.saving,
                      },
                      formats,
                    )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolls>
    </section>
  )
}
