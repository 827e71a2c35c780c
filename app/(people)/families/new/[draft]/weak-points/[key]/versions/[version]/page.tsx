import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Frame } from '../../../../../../../../ui/frame'
import { ChoiceField, KeptForm, TextField } from '../../../../../../../../ui/kept-form'
import { Link } from '../../../../../../../../ui/link'
import styles from '../../../../../../families.module.css'
import { CONFIDENCE_OPTIONS, YES_NO } from '../../../../../choices'
import { draftAddress, openDraft } from '../../../../../open-draft'
import { keepRevision, removeRevision } from '../../../../../step-actions'
import { RetiredField } from '../../../../retired-field'
import { TakeOut } from '../../../../take-out'

export const metadata: Metadata = { title: 'State a version of a part' }

type Props = { params: Promise<{ draft: string; key: string; version: string }> }

/** One version of a part: a new one, or one that is stated already. */
export default async function RevisionPage({ params }: Props) {
  const { draft: id, key, version } = await params
  const { family } = await openDraft(id)
  const weakPoint = family.weakPoints.find((each) => each.key === decodeURIComponent(key))
  const stated = weakPoint?.revisions?.find((each) => each.key === decodeURIComponent(version))
  if (!weakPoint || (!stated && version !== 'new')) notFound()
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={draftAddress(id, `weak-points/${key}`)}>{weakPoint.component}</Link>
      </p>
      <h1 className={styles.title}>{stated ? (stated.name ?? stated.key) : 'A version of the part'}</h1>
      <div className={styles.step}>
        <KeptForm
          action={keepRevision.bind(null, id, weakPoint.key, stated?.key ?? null)}
          submit="Keep this version"
        >
          <TextField
            name="name"
            label="What the version is called"
            hint="Its mark or part number, as it is written down when it is fitted."
            value={stated && (stated.name ?? stated.key)}
          />
          <TextField
            name="lasts"
            label="It lasts, against the original part"
            hint="1.5: half as long again. 0.8: a fifth less. What your records say of it is learned from there."
            inputMode="decimal"
            unit="times"
            value={stated && String(stated.lifeFactor)}
          />
          <ChoiceField
            name="confidence"
            label="How sure you are"
            options={CONFIDENCE_OPTIONS}
            value={stated && (stated.confidence ?? 'experience')}
          />
          <ChoiceField
            name="temporary"
            label="Is it a quick fix, that holds until the part is replaced?"
            options={YES_NO}
            value={stated?.temporary ? 'yes' : 'no'}
          />
          {stated && <RetiredField retired={stated.retired} />}
        </KeptForm>
      </div>
      {stated && (
        <details className={styles.remove}>
          <summary>Take it out</summary>
          <TakeOut action={removeRevision.bind(null, id, weakPoint.key, stated.key)}>
            <button type="submit" className={styles.act}>
              Take out {stated.name ?? stated.key}
            </button>
          </TakeOut>
        </details>
      )}
    </Frame>
  )
}
