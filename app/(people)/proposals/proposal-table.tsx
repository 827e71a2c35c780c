import type { Standing } from '@/lib/decisions/proposals'
import type { Proposal } from '@/lib/store/read/proposals'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { jobName, savingWords, standingWords } from '../vehicles/[unit]/proposal-words'
import styles from './proposals.module.css'

type Props = { title: string; rows: { proposal: Proposal; standing: Standing }[]; formats: Formats }

/** Proposals, each with what it waits for; nothing where there are none. */
export function ProposalTable({ title, rows, formats }: Props) {
  if (rows.length === 0) return null
  return (
    <section className={styles.section}>
      <h2>{title}</h2>
      <table className={table.table}>
        <caption className="for-ears">{title}</caption>
        <thead>
          <tr>
            <th scope="col">Vehicle</th>
            <th scope="col">Job</th>
            <th scope="col">How it stands</th>
            <th scope="col">Proposed</th>
            <th scope="col" className={table.number}>
              Price
            </th>
            <th scope="col" className={table.number}>
              Saves
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ proposal, standing }) => (
            <tr key={proposal.id}>
              <th scope="row">
                <Link href={`/vehicles/${encodeURIComponent(proposal.unit)}#proposals`}>{proposal.unit}</Link>{' '}
                <small>{proposal.customer ?? proposal.plate}</small>
              </th>
              <td className={table.wide}>{jobName(proposal, proposal.positions)}</td>
              <td data-label="How it stands">{standingWords(standing, formats)}</td>
              <td data-label="Proposed">
                {formats.day(proposal.madeOn)} <small>{proposal.madeByName}</small>
              </td>
              <td className={table.number} data-label="Price">
                {formats.money(proposal.price)}
              </td>
              <td className={`${table.number} ${table.wraps}`} data-label="Saves">
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
    </section>
  )
}
