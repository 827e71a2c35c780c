import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Frame } from '../../../../../../ui/frame'
import { KeptForm } from '../../../../../../ui/kept-form'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../families.module.css'
import { draftAddress, openDraft } from '../../../open-draft'
import { keepWeakPoint, removeWeakPoint } from '../../../step-actions'
import { RetiredField } from '../../retired-field'
import { TakeOut } from '../../take-out'
import { CostFields, LifeFields, PartFields } from './fields'
import { PartVersions } from './part-versions'

export const metadata: Metadata = { title: 'State a weak point' }

type Props = { params: Promise<{ draft: string; key: string }> }

/** One weak point of a draft: a new one, or one that is stated already. */
export default async function WeakPointPage({ params }: Props) {
  const { draft: id, key: written } = await params
  const key = decodeURIComponent(written)
  const { family, terms, formats, zones } = await openDraft(id)
  const stated = family.weakPoints.find((each) => each.key === key)
  if (!stated && key !== 'new') notFound()
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={draftAddress(id)}>{family.name}</Link>
      </p>
      <h1 className={styles.title}>{stated?.component ?? 'A weak point'}</h1>
      <div className={styles.step}>
        <KeptForm action={keepWeakPoint.bind(null, id, stated?.key ?? null)} submit="Keep this weak point">
          <PartFields stated={stated} cylinders={family.cylinders} zones={zones} />
          <LifeFields stated={stated} terms={terms} />
          <CostFields stated={stated} currency={terms.currency} />
          {stated && <RetiredField retired={stated.retired} />}
        </KeptForm>
      </div>
      {stated && <PartVersions id={id} weakPoint={stated} formats={formats} />}
      {stated && (
        <details className={styles.remove}>
          <summary>Take it out</summary>
          <TakeOut action={removeWeakPoint.bind(null, id, stated.key)}>
            <p>It goes, and so does what was said of it under the signs and links.</p>
            <button type="submit" className={styles.act}>
              Take out {stated.component}
            </button>
          </TakeOut>
        </details>
      )}
    </Frame>
  )
}
