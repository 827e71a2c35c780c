import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Frame } from '../../../../../../ui/frame'
import { KeptForm } from '../../../../../../ui/kept-form'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../families.module.css'
import type { SearchParameters } from '../../../../told-in'
import { draftAddress, openDraft } from '../../../open-draft'
import { keepStarterPoint } from '../../../starter-actions'
import { starterAddress } from '../../../starter-address'
import { STARTER_POINTS } from '../../../starter-words'
import { PointFields } from '../point-form'
import { PointSaid } from '../point-said'

export const metadata: Metadata = { title: 'A weak point' }

type Props = { params: Promise<{ draft: string; key: string }>; searchParams: Promise<SearchParameters> }

/** The short form of one weak point: another one, after what was made of the last; or one that is stated already. */
export default async function StarterPointPage({ params, searchParams }: Props) {
  const { draft: id, key: written } = await params
  const key = decodeURIComponent(written)
  const { family, terms, formats } = await openDraft(id)
  const stated = family.weakPoints.find((each) => each.key === key)
  if (!stated && key !== 'new') notFound()
  const { kept } = await searchParams
  const last = stated ? undefined : family.weakPoints.find((each) => each.key === kept)
  const before = family.weakPoints.length
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={draftAddress(id, starterAddress.summary)}>{family.name}: what is stated so far</Link>
      </p>
      <h1 className={styles.title}>{stated?.component ?? titleOf(before)}</h1>
      {last && (
        <section className={styles.step} aria-labelledby="kept">
          <h2 id="kept">Kept: {last.component}</h2>
          <PointSaid {...{ id, family, point: last, formats }} distance={terms.distance} />
        </section>
      )}
      <div className={styles.step}>
        <KeptForm
          key={stated?.key ?? `new ${before}`}
          action={keepStarterPoint.bind(null, id, stated?.key ?? null)}
          submit={
            stated || before + 1 >= STARTER_POINTS
              ? 'Keep it, and see what follows'
              : 'Keep it, and on to the next'
          }
        >
          <PointFields {...{ family, stated, terms }} />
        </KeptForm>
      </div>
    </Frame>
  )
}

const titleOf = (before: number) =>
  before < STARTER_POINTS ? `Weak point ${before + 1} of ${STARTER_POINTS}` : `Weak point ${before + 1}`
