import type { Difference } from '@/lib/records/library-differences'
import type { Formats } from '../../ui/formats'
import { fieldWords, thingWords } from './difference-words'
import styles from './families.module.css'

/** What two libraries say differently, in words; the caller says what it means where they say the same. */
export function Differences({
  differences,
  formats,
}: {
  differences: readonly Difference[]
  formats: Formats
}) {
  return (
    <ul className={styles.differences}>
      {differences.map((difference) => (
        <li key={`${difference.change} ${thingWords(difference)}`}>
          <strong>{thingWords(difference)}</strong>
          {difference.change === 'changed' ? (
            <ul>
              {difference.fields.map((field) => (
                <li key={field.field}>{fieldWords(field, difference.clock, formats)}</li>
              ))}
            </ul>
          ) : (
            <> {difference.change === 'added' ? 'is new' : 'is gone'}</>
          )}
        </li>
      ))}
    </ul>
  )
}
