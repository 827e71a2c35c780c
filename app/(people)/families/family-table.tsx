import type { Family } from '@/lib/records/library'
import type { Formats } from '../../ui/formats'
import { CONFIDENCE } from '../../ui/library-words'
import { Link } from '../../ui/link'
import styles from './families.module.css'

type Props = { families: Family[]; vehicles: ReadonlyMap<string, number>; formats: Formats }

export const GRADES = ['documented', 'experience', 'hunch'] as const

/** The families that the library knows. */
export function FamilyTable({ families, vehicles, formats }: Props) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">The engine families of the library</caption>
      <thead>
        <tr>
          <th scope="col">Engine</th>
          <th scope="col" className={styles.number}>
            Vehicles
          </th>
          <th scope="col" className={styles.number}>
            Weak points
          </th>
          <th scope="col" className={styles.number}>
            Signs
          </th>
          <th scope="col">How sure its lives are</th>
        </tr>
      </thead>
      <tbody>
        {families.map((family) => (
          <tr key={family.key}>
            <th scope="row">
              <Link href={`/families/${encodeURIComponent(family.key)}`}>{family.name}</Link>
            </th>
            <td className={styles.number} data-label="Vehicles">
              {formats.count(vehicles.get(family.key) ?? 0)}
            </td>
            <td className={styles.number} data-label="Weak points">
              {formats.count(family.weakPoints.length)}
            </td>
            <td className={styles.number} data-label="Signs">
              {formats.count(family.signs.length)}
            </td>
            <td data-label="How sure its lives are">{sureness(family, formats)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** How many of its weak points have lives of a grade. */
export const gradeCount = ({ weakPoints }: Family, grade: (typeof GRADES)[number]): number =>
  weakPoints.filter(({ confidence }) => confidence === grade).length

/** "3 documented, 5 experience, 1 a hunch". */
function sureness(family: Family, formats: Formats): string {
  const counts = GRADES.map((grade) => ({ grade, count: gradeCount(family, grade) }))
  return counts
    .filter(({ count }) => count > 0)
    .map(({ grade, count }) => `${formats.count(count)} ${CONFIDENCE[grade].word}`)
    .join(', ')
}
