import type { Verdict } from '@/lib/decisions/proposals'
import type { Turnout } from '@/lib/decisions/were-we-right'
import type { Formats } from '../../ui/formats'
import table from '../../ui/list-table.module.css'
import { VERDICTS } from '../../ui/told-words'
import { Scrolls } from '../intake/scrolls'

type Props = { heading: string; groups: Map<string, Turnout>; formats: Formats }

/** How proposals turned out, a row a group; says so where none has been decided. */
export function TurnoutTable({ heading, groups, formats }: Props) {
  if (groups.size === 0) return <p>By {heading.toLowerCase()}: none has been decided yet.</p>
  const verdicts = Object.entries(VERDICTS) as [Verdict, string][]
  return (
    <Scrolls label={heading}>
      <table className={`${table.table} ${table.plain}`}>
        <thead>
          <tr>
            <th scope="col">{heading}</th>
            {verdicts.map(([verdict, words]) => (
              <th key={verdict} scope="col" className={table.number}>
                {words}
              </th>
            ))}
            <th scope="col" className={table.number}>
              Not done: expected to fail
            </th>
            <th scope="col" className={table.number}>
              Not done: failed
            </th>
          </tr>
        </thead>
        <tbody>
          {[...groups].map(([group, { verdicts: counts, refused }]) => (
            <tr key={group}>
              <th scope="row">{group}</th>
              {verdicts.map(([verdict]) => (
                <td key={verdict} className={table.number}>
                  {formats.count(counts[verdict])}
                </td>
              ))}
              <td className={table.number}>
                {formats.tally(refused.expected)} of {formats.count(refused.count)}
              </td>
              <td className={table.number}>{formats.count(refused.failed)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolls>
  )
}
