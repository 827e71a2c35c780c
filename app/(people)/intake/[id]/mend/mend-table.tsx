import type { MendableFile } from '@/lib/jobs/mend-intake'
import styles from '../../intake.module.css'
import { Scrolls } from '../../scrolls'

type Props = MendableFile & { count: (count: number) => string }

/** The rows of one file: every cell a field, the one at fault marked, with why. */
export function MendTable({ name, columns, rows, count }: Props) {
  return (
    <Scrolls label={`Refused rows of ${name}`}>
      <table className={styles.mend}>
        <caption>{name}</caption>
        <thead>
          <tr>
            <th scope="col">Line</th>
            {columns.map((column, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a file may hold a column twice, and none moves
              <th scope="col" key={i}>
                {column}
              </th>
            ))}
          </tr>
        </thead>
        {rows.map((row) => (
          <tbody key={row.id}>
            <tr>
              <th scope="row">{count(row.line)}</th>
              {row.cells.map((cell, i) => {
                const atFault = columns[i] === row.column
                return (
                  // biome-ignore lint/suspicious/noArrayIndexKey: cells stay in their place
                  <td key={i}>
                    <input
                      name={`cell.${row.id}.${i}`}
                      defaultValue={cell}
                      aria-label={`${columns[i] ?? `cell ${i + 1}`}, line ${count(row.line)}`}
                      aria-invalid={atFault || undefined}
                      aria-describedby={atFault ? `why.${row.id}` : undefined}
                      size={Math.max(6, Math.min(24, cell.length + 1))}
                    />
                  </td>
                )
              })}
            </tr>
            <tr>
              <td />
              <td colSpan={Math.max(1, row.cells.length)} className={styles.why} id={`why.${row.id}`}>
                {row.column === '' ? row.reason : `${row.column}: ${row.reason}`}
              </td>
            </tr>
          </tbody>
        ))}
      </table>
    </Scrolls>
  )
}
