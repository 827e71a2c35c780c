import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { shownBy } from '@/lib/intake/family-forms'
import { Frame } from '../../../../../../ui/frame'
import { ChoiceField, KeptForm, SelectField, TextField } from '../../../../../../ui/kept-form'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../families.module.css'
import { KIND_OPTIONS, LEAKS, SHOWS, withValue, YES_NO } from '../../../choices'
import { draftAddress, openDraft } from '../../../open-draft'
import { keepSign, removeSign } from '../../../step-actions'
import { RetiredField } from '../../retired-field'
import { TakeOut } from '../../take-out'
import { ZoneField } from '../../zone-field'

export const metadata: Metadata = { title: 'State a sign' }

type Props = { params: Promise<{ draft: string; key: string }> }

/** One sign of a draft: a new one, or one that is stated already. */
export default async function SignPage({ params }: Props) {
  const { draft: id, key: written } = await params
  const key = decodeURIComponent(written)
  const { family, zones } = await openDraft(id)
  const stated = family.signs?.find((each) => each.key === key)
  if (!stated && key !== 'new') notFound()
  const detect = (weakPoint: string) => stated?.causes?.find((cause) => cause.weakPoint === weakPoint)?.detect
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={draftAddress(id)}>{family.name}</Link>
      </p>
      <h1 className={styles.title}>{stated?.label ?? 'A sign'}</h1>
      <div className={styles.step}>
        <KeptForm action={keepSign.bind(null, id, stated?.key ?? null)} submit="Keep this sign">
          <TextField
            name="label"
            label="What there is to see, hear or read"
            hint="Rattle at a cold start; oil on the cover."
            value={stated?.label}
          />
          <ChoiceField name="kind" label="How it is found" options={KIND_OPTIONS} value={stated?.kind} />
          <TextField
            name="codes"
            label="Its trouble codes, if it is read out"
            hint="Like P0302 or 94:18; P030# for one a cylinder. Several with spaces between."
            value={stated?.codes?.join(' ')}
          />
          {family.weakPoints.map((weakPoint) => (
            <SelectField
              key={weakPoint.key}
              name={shownBy(weakPoint.key)}
              label={`How often it is there while this goes: ${weakPoint.component}`}
              options={withValue(SHOWS, detect(weakPoint.key))}
              value={String(detect(weakPoint.key) ?? 0)}
            />
          ))}
          <SelectField
            name="leak"
            label="How often it shows without cause"
            options={withValue(LEAKS, stated?.leak)}
            value={String(stated?.leak ?? 0.005)}
          />
          <ChoiceField
            name="lamp"
            label="Does it light the engine lamp?"
            options={YES_NO}
            value={stated?.lamp ? 'yes' : 'no'}
          />
          <ChoiceField
            name="stop"
            label="Must whoever sees it stop driving at once?"
            options={YES_NO}
            value={stated?.stop ? 'yes' : 'no'}
          />
          <TextField
            name="how"
            label="How to look"
            hint="May be left out."
            value={stated?.how ?? undefined}
          />
          <ZoneField zone={stated?.zone} zones={zones} />
          {stated && <RetiredField retired={stated.retired} />}
        </KeptForm>
      </div>
      {stated && (
        <details className={styles.remove}>
          <summary>Take it out</summary>
          <TakeOut action={removeSign.bind(null, id, stated.key)}>
            <button type="submit" className={styles.act}>
              Take out {stated.label}
            </button>
          </TakeOut>
        </details>
      )}
    </Frame>
  )
}
