import type { StoredWorkbook } from '@/lib/store/read/workbook'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import styles from './intake.module.css'

type Props = { workbooks: Pick<StoredWorkbook, 'id' | 'name' | 'by' | 'madeAt'>[]; formats: Formats }

/** Workbooks that somebody has begun to look over, and of which nothing has come in yet. */
export function OpenWorkbooks({ workbooks, formats }: Props) {
  return (
    <section className={styles.section} aria-labelledby="open">
      <h2 id="open">Being looked over</h2>
      <ul className={styles.notices}>
        {workbooks.map(({ id, name, by, madeAt }) => (
          <li key={id}>
            <Link href={`/intake/workbook/${id}`}>{name}</Link>,{' '}
            {[by, formats.moment(madeAt)].filter(Boolean).join(', ')}
          </li>
        ))}
      </ul>
    </section>
  )
}
