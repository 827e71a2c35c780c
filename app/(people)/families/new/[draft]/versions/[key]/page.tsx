import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import type { WeakPointDraft } from '@/lib/intake/family-draft'
import { ABSENT, lastsIn } from '@/lib/intake/family-forms'
import { Frame } from '../../../../../../ui/frame'
import { ChoiceField, KeptForm, SelectField, TextField } from '../../../../../../ui/kept-form'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../families.module.css'
import { CONFIDENCE_OPTIONS, LASTS_IN, withValue } from '../../../choices'
import { draftAddress, openDraft } from '../../../open-draft'
import { keepVariant, removeVariant } from '../../../step-actions'
import { RetiredField } from '../../retired-field'
import { TakeOut } from '../../take-out'

export const metadata: Metadata = { title: 'State a version of the engine' }

type Props = { params: Promise<{ draft: string; key: string }> }

/** One version of the engine: a new one, or one that is stated already, and how long each part lasts in it. */
export default async function VariantPage({ params }: Props) {
  const { draft: id, key: written } = await params
  const key = decodeURIComponent(written)
  const { family } = await openDraft(id)
  const stated = family.variants?.find((each) => each.key === key)
  if (!stated && key !== 'new') notFound()
  const effects = family.weakPoints.flatMap((point) => (stated && point.variants?.[stated.key]) || [])
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={draftAddress(id)}>{family.name}</Link>
      </p>
      <h1 className={styles.title}>{stated ? (stated.name ?? stated.key) : 'A version of the engine'}</h1>
      <div className={styles.step}>
        <KeptForm action={keepVariant.bind(null, id, stated?.key ?? null)} submit="Keep this version">
          <TextField
            name="name"
            label="What the version is called"
            hint="As your people tell it apart: before 2019, with the cast manifold."
            value={stated && (stated.name ?? stated.key)}
          />
          {family.weakPoints.map((point) => (
            <SelectField
              key={point.key}
              name={lastsIn(point.key)}
              label={`In it, this lasts: ${point.component}`}
              options={withValue(LASTS_IN, factorIn(point, stated?.key))}
              value={lastsValue(point, stated?.key)}
            />
          ))}
          <ChoiceField
            name="confidence"
            label="How sure you are of what you change here"
            options={CONFIDENCE_OPTIONS}
            value={effects[0]?.confidence ?? (stated && 'experience')}
          />
          {stated && <RetiredField retired={stated.retired} />}
        </KeptForm>
      </div>
      {stated && (
        <details className={styles.remove}>
          <summary>Take it out</summary>
          <TakeOut action={removeVariant.bind(null, id, stated.key)}>
            <p>It goes, and so does what was said of the weak points in it.</p>
            <button type="submit" className={styles.act}>
              Take out {stated.name ?? stated.key}
            </button>
          </TakeOut>
        </details>
      )}
    </Frame>
  )
}

const factorIn = ({ variants }: WeakPointDraft, key: string | undefined): number | undefined =>
  key === undefined ? undefined : (variants?.[key]?.lifeFactor ?? undefined)

const lastsValue = (point: WeakPointDraft, key: string | undefined): string =>
  key !== undefined && point.variants?.[key]?.absent ? ABSENT : String(factorIn(point, key) ?? 1)
