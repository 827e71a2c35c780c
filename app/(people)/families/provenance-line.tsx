import type { Family } from '@/lib/records/library'
import type { Formats } from '../../ui/formats'
import styles from './families.module.css'
import { type Stated, statedSentence } from './provenance-words'

/** Whose statement something is; nothing where nobody has said. */
export function ProvenanceLine({
  stated,
  formats,
}: {
  stated: Stated & Pick<Family, 'grounds'>
  formats: Formats
}) {
  const sentence = statedSentence(stated, formats)
  const grounds = stated.grounds ? `Grounds: ${stated.grounds}.` : null
  if (sentence === null && grounds === null) return null
  return <p className={styles.soft}>{[sentence, grounds].filter(Boolean).join(' ')}</p>
}
