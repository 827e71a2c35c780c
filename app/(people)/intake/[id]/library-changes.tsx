import type { FamilyChange, ListChange } from '@/lib/records/library-changes'
import styles from '../intake.module.css'

/** What the library among the files changes, family by family. */
export function LibraryChanges({ changes }: { changes: FamilyChange[] }) {
  if (changes.length === 0) return null
  return (
    <section className={styles.section} aria-labelledby="library">
      <h2 id="library">What is known of engines</h2>
      <ul className={styles.notices}>
        {changes.map((family) => (
          <li key={family.name}>
            <strong>{family.name}</strong>: {changeWords(family)}
          </li>
        ))}
      </ul>
    </section>
  )
}

function changeWords(family: FamilyChange): string {
  if (family.change !== 'changed') return family.change === 'added' ? 'new' : 'not in the file, so it goes'
  const parts = [
    ...listWords('weak point', family.weakPoints),
    ...listWords('sign', family.signs),
    family.rest ? 'what else it says of the engine changes' : '',
  ]
  return parts.filter(Boolean).join('; ')
}

function listWords(thing: string, { added, gone, changed }: ListChange): string[] {
  const told = (how: string, names: string[]) =>
    names.length === 0 ? '' : `${how} ${thing}${names.length === 1 ? '' : 's'} ${names.join(', ')}`
  return [told('new', added), told('changed', changed), told('no longer the', gone)]
}
