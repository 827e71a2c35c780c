import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { knownFit } from '@/lib/jobs/known-fit'
import { can } from '@/lib/people/permissions'
import type { FamilyFit } from '@/lib/scoring/family-fit'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readSettings } from '@/lib/store/read/settings'
import { readTerms } from '@/lib/store/read/terms'
import { readVehiclesByFamily } from '@/lib/store/read/vehicles-by-family'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { Frame } from '../../../ui/frame'
import { TwinLinks } from '../../../ui/twin-links'
import { CAUTION } from '../../../ui/words'
import { twinBelow } from '../../twins/twin-address'
import styles from '../families.module.css'
import { STEPS_NOTE } from '../learned-sentences'
import { type SearchParameters, toldIn } from '../told-in'
import { FamilyHead } from './family-head'
import { NotDescribed } from './not-described'
import { SignMatrix } from './sign-matrix'
import { SignsToLookFor } from './signs-to-look-for'
import { WeakPointArticle } from './weak-point'

type Props = { params: Promise<{ key: string }>; searchParams: Promise<SearchParameters> }

const keyOf = async (params: Props['params']) => decodeURIComponent((await params).key)

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Engine ${await keyOf(params)}` }
}

/** One engine family: everything that the library says of it. */
export default async function FamilyPage({ params, searchParams }: Props) {
  const [key, { database, organisation, role }] = [await keyOf(params), await requirePerson()]
  const { terms, known, settings, vehicles, stored } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({
      terms: await readTerms(scope),
      known: await readKnownLibrary(scope),
      settings: await readSettings(scope),
      stored: await readFitInForce(scope),
      vehicles: (await readVehiclesByFamily(scope)).get(key) ?? 0,
    }),
  )
  const family = known?.library.families.find((each) => each.key === key)
  if (!family && vehicles === 0) notFound()
  const fit = (known && knownFit(stored, known.library)?.families.get(key)) ?? null
  const { formats, choices } = toldIn(await searchParams, terms, `/families/${encodeURIComponent(key)}`)

  return (
    <Frame here="families" asOf={null} choices={choices}>
      {known && family ? (
        <>
          <FamilyHead
            {...{ family, vehicles, formats }}
            version={known.version}
            mayChange={can(role, 'edit-library')}
          />
          <p className={styles.caution}>{CAUTION}</p>
          {hasSteps(fit) && <p className={styles.caution}>{STEPS_NOTE}</p>}
          {family.weakPoints.map((weakPoint) => (
            <WeakPointArticle
              key={weakPoint.key}
              {...{ weakPoint, family, library: known.library, settings, fit, formats }}
            />
          ))}
          <p className={styles.acts}>
            Its weak points:{' '}
            <TwinLinks
              csv={twinBelow(`/families/${encodeURIComponent(key)}`, 'weak-points')}
              of="its weak points"
            />
          </p>
          <SignMatrix {...{ family, fit, formats }} />
          <SignsToLookFor family={family} />
        </>
      ) : (
        <NotDescribed family={key} vehicles={vehicles} formats={formats} />
      )}
    </Frame>
  )
}

const hasSteps = (fit: FamilyFit | null) =>
  [...(fit?.weakPoints.values() ?? [])].some(({ observed }) => observed?.steps)
