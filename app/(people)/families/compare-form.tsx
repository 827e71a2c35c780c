import type { LibraryVersion } from '@/lib/store/read/library-versions'
import type { Formats } from '../../ui/formats'
import styles from './families.module.css'

type Props = { versions: LibraryVersion[]; from: number; to: number; formats: Formats }

/** Asks for two versions of the library to be held against each other. */
export function CompareForm({ versions, from, to, formats }: Props) {
  const options = versions.map(({ version, inForce }) => (
    <option key={version} value={version}>
      {formats.count(version)}
      {inForce && ' (in force)'}
    </option>
  ))
  return (
    <form method="get" action="/families/compare" className={styles.ask}>
      <div>
        <label htmlFor="to">What version</label>
        <select id="to" name="to" defaultValue={to}>
          {options}
        </select>
      </div>
      <div>
        <label htmlFor="from">says otherwise than</label>
        <select id="from" name="from" defaultValue={from}>
          {options}
        </select>
      </div>
      <button type="submit" className={styles.act}>
        Compare
      </button>
    </form>
  )
}
