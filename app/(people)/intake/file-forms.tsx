import { ROW_KINDS } from '@/lib/intake/tables'
import { columnMeanings } from '@/lib/intake/template'
import styles from './intake.module.css'
import { KINDS } from './words'

/** What each file looks like: a template, and every column in one sentence. */
export function FileForms({ open }: { open: boolean }) {
  return (
    <section className={styles.section} aria-labelledby="forms">
      <h2 id="forms">What the files look like</h2>
      <p className={styles.lead}>
        A header line, then a row each; comma, semicolon or tab between. Columns may come in any order, and
        columns of your own are kept as notes. Begin with vehicles and readings; a file that names a column
        ending in <code>_mi</code> instead of <code>_km</code> is in miles. A workbook needs none of this: it
        is read as it is.
      </p>
      {ROW_KINDS.map((kind) => (
        <details key={kind} open={open && kind === 'vehicles'} className={styles.form}>
          <summary>
            <code>{kind}.csv</code> {KINDS[kind]}
          </summary>
          <p>
            <a href={`/intake/template/${kind}.csv`} download>
              {kind}.csv to begin with
            </a>
            , with two rows as examples
          </p>
          <dl className={styles.columns}>
            {columnMeanings(kind).map(({ name, needed, meaning }) => (
              <div key={name}>
                <dt>
                  <code>{name}</code>
                  {needed && ' needed'}
                </dt>
                <dd>{meaning}</dd>
              </div>
            ))}
          </dl>
        </details>
      ))}
    </section>
  )
}
