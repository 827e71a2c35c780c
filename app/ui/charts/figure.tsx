import type { ReactNode } from 'react'
import styles from './chart.module.css'

type Props = {
  /** The finding, in a sentence. */
  finding: string
  /** What the table holds, for those who only hear it. */
  caption: string
  headings: string[]
  rows: { key: string; cells: ReactNode[] }[]
  children: ReactNode
}

/** A chart with the sentence that states what it finds, and the numbers that it is drawn from. */
export function ChartFigure({ finding, caption, headings, rows, children }: Props) {
  return (
    <figure className={styles.figure}>
      <figcaption>{finding}</figcaption>
      <div className={styles.plot} aria-hidden="true">
        {children}
      </div>
      <details>
        <summary>The numbers</summary>
        <table>
          <caption className="for-ears">{caption}</caption>
          <thead>
            <tr>
              {headings.map((heading) => (
                <th key={heading} scope="col">
                  {heading}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ key, cells: [first, ...others] }) => (
              <tr key={key}>
                <th scope="row">{first}</th>
                {others.map((cell, i) => (
                  <td key={headings[i + 1]}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  )
}
