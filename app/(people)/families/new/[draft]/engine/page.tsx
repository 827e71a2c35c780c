import type { Metadata } from 'next'
import { type FamilyDraft, isOneACylinder, type WeakPointDraft } from '@/lib/intake/family-draft'
import { reachedIn, reachedWith } from '@/lib/intake/family-forms'
import { Frame } from '../../../../../ui/frame'
import { KeptForm, TextField } from '../../../../../ui/kept-form'
import { Link } from '../../../../../ui/link'
import styles from '../../../families.module.css'
import { draftAddress, openDraft } from '../../open-draft'
import { keepEngine } from '../../step-actions'

export const metadata: Metadata = { title: 'Change an engine' }

/** The engine as a whole: its name, its cylinders, and which of its parts are reached together. */
export default async function EnginePage({ params }: { params: Promise<{ draft: string }> }) {
  const { draft: id } = await params
  const { family } = await openDraft(id)
  const { weakPoints } = family
  const groups = [...new Set(weakPoints.flatMap(({ access }) => (access ? [access] : [])))]
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={draftAddress(id)}>{family.name}</Link>
      </p>
      <h1 className={styles.title}>The engine</h1>
      <div className={styles.step}>
        <KeptForm action={keepEngine.bind(null, id)} submit="Keep the engine">
          <TextField name="name" label="What the engine is called" value={family.name} />
          <TextField
            name="cylinders"
            label="How many cylinders"
            hint={cylindersHint(family)}
            inputMode="numeric"
            value={String(family.cylinders)}
          />
          {weakPoints.length > 1 && (
            <p>
              Jobs that begin with the same work, such as taking off one cover, share it when they are done on
              one visit. Give these parts the same word, and say how many of each job’s hours that work takes.
              Both may be left out.
            </p>
          )}
          {weakPoints.map((point) => (
            <ReachedFields key={point.key} point={point} />
          ))}
          <datalist id="groups">
            {groups.map((group) => (
              <option key={group} value={group} />
            ))}
          </datalist>
        </KeptForm>
      </div>
    </Frame>
  )
}

function ReachedFields({ point: { key, component, access, cost } }: { point: WeakPointDraft }) {
  const shared = cost?.sharedHours ?? 0
  return (
    <>
      <TextField
        name={reachedWith(key)}
        label={`What is taken off to reach it: ${component}`}
        list="groups"
        value={access ?? undefined}
      />
      <TextField
        name={reachedIn(key)}
        label={`Hours for that: ${component}`}
        unit="hours"
        inputMode="decimal"
        value={shared > 0 ? String(shared) : undefined}
      />
    </>
  )
}

/** What goes with the cylinders. */
function cylindersHint(family: FamilyDraft): string | undefined {
  const isEach = isOneACylinder(family)
  const parts = family.weakPoints.filter(isEach).map(({ component }) => component)
  if (parts.length === 0) return undefined
  return `There is one a cylinder of these, which changes with it: ${parts.join(', ')}.`
}
