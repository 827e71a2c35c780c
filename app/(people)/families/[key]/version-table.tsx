import type { Family, WeakPoint } from '@/lib/records/library'
import type { LearnedFactor, LearnedReport } from '@/lib/scoring/learned-report'
import type { ObservedLife } from '@/lib/scoring/observed-life'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import styles from '../families.module.css'
import { factorInBand, versionName, versionSentence } from '../learned-sentences'

type Props = {
  report: LearnedReport
  observed: ObservedLife | undefined
  family: Family
  weakPoint: WeakPoint
  formats: Formats
}

/** Versions of the part and of the engine against the original: how long each lasts, and whether it is better. */
export function VersionTable({ report: { factors }, observed, family, weakPoint, formats }: Props) {
  if (factors.length === 0) return null
  return (
    <>
      <table className={styles.versionTable}>
        <caption className="for-ears">How long versions last against the original part</caption>
        <thead>
          <tr>
            <th scope="col">Version</th>
            <th scope="col">Lasts, against the original</th>
            <th scope="col">Chance that it lasts longer</th>
            <th scope="col">Lives</th>
          </tr>
        </thead>
        <tbody>
          {factors.map((learned) => {
            const counted = observed?.byFactor.find(({ of, key }) => of === learned.of && key === learned.key)
            return (
              <tr key={`${learned.of} ${learned.key}`}>
                <th scope="row">{versionName(learned, family, weakPoint)}</th>
                <td data-label="Lasts, against the original">
                  {factorInBand(learned.factor, formats)}; stated{' '}
                  {formats.decimal(statedFactor(learned, weakPoint))}
                </td>
                <td data-label="Chance that it lasts longer">
                  <data value={learned.longer}>{frequency(learned.longer, formats.count)}</data>
                </td>
                <td data-label="Lives">
                  {counted && `${formats.count(counted.lives)}, ${formats.count(counted.gone)} gone`}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
      {factors.map((learned) => (
        <p key={`${learned.of} ${learned.key}`}>
          {versionSentence(learned, versionName(learned, family, weakPoint), formats)}
        </p>
      ))}
    </>
  )
}

const statedFactor = ({ of, key }: LearnedFactor, { revisions, variants }: WeakPoint): number =>
  (of === 'variant' ? variants[key] : revisions.find((revision) => revision.key === key))?.lifeFactor ?? 1
