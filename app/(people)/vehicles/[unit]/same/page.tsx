import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readMergedVehicles } from '@/lib/store/read/merged-vehicles'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { Link } from '../../../../ui/link'
import { MergeForm } from './merge-form'
import { PartForms } from './part-forms'
import styles from './same.module.css'
import { WhichOther } from './which-other'

type Props = {
  params: Promise<{ unit: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

const unitOf = async (params: Props['params']) => decodeURIComponent((await params).unit)

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${await unitOf(params)}: the same as another` }
}

/** Two vehicles that are one: which is the other, what is to stand, and what has been made one with this. */
export default async function SamePage({ params, searchParams }: Props) {
  const { database, organisation } = await requirePerson('enter-records')
  const unit = await unitOf(params)
  const asked = ([(await searchParams).other ?? []].flat()[0] ?? '').trim()
  const { terms, known, own, other, merged } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({
      terms: await readTerms(scope),
      known: await readKnownLibrary(scope),
      own: await rowOf(scope, unit),
      other: asked === '' || asked === unit ? null : await rowOf(scope, asked),
      merged: await readMergedVehicles(scope, unit),
    }),
  )
  if (!own) notFound()
  const formats = formatsFor(terms, terms.distance)
  const engines = new Map(known?.library.families.map(({ key, name }) => [key, name]))
  return (
    <Frame asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>Is {unit} the same as another?</h1>
        <p>
          Where one vehicle is on record under two numbers, its records belong together: they count for one,
          and what is on both counts once.{' '}
          <Link href={`/vehicles/${encodeURIComponent(unit)}`}>Back to {unit}</Link>
        </p>
        <WhichOther
          unit={unit}
          asked={asked}
          isThere={other !== null}
          isMerged={merged.some((one) => one.other === asked)}
        />
        {asked !== '' && <MergeForm key={asked} {...{ own, other, asked, engines, formats }} />}
        <PartForms unit={unit} merged={merged} formats={formats} />
      </div>
    </Frame>
  )
}

async function rowOf(scope: OrganisationScope, unit: string) {
  const { vehicles } = await readVehicleRows(scope, { unit, after: null, limit: 1 })
  return vehicles[0] ?? null
}
