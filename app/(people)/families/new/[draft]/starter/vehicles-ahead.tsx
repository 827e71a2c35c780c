import type { FamilyDraft } from '@/lib/intake/family-draft'
import {
  type DraftOutlook,
  MOST_VEHICLES,
  outlookOfDraft,
  readDraftGround,
} from '@/lib/jobs/outlook-of-draft'
import { readVehiclesByFamily } from '@/lib/store/read/vehicles-by-family'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../../require-person'
import { chanceInBand } from '../../../../../ui/chance-words'
import type { Formats } from '../../../../../ui/formats'
import { Link } from '../../../../../ui/link'
import { ADVICE, horizonWords } from '../../../../../ui/words'
import { ENGINE_NOT_KNOWN } from '../../../../new-vehicle/engine-not-known'
import styles from '../../../families.module.css'
import own from '../../starter.module.css'
import { aheadSentence, LISTED } from '../../starter-words'

type Props = { family: FamilyDraft; formats: Formats }

/** What the draft would say of the vehicles that have its engine, if it were in force. */
export async function VehiclesAhead({ family, formats }: Props) {
  const { database, organisation } = await requirePerson('edit-library')
  const { ground, vehicles } = await withOrganisation(database, organisation, async (scope) => ({
    ground: await readDraftGround(scope, family),
    vehicles: await readVehiclesByFamily(scope),
  }))
  if (!ground) return null
  const [having, unnamed] = [vehicles.get(family.key) ?? 0, vehicles.get(ENGINE_NOT_KNOWN) ?? 0]
  return (
    <section className={styles.step} aria-labelledby="ahead">
      <h2 id="ahead">What follows for your vehicles</h2>
      {having === 0 ? (
        <p>No vehicle is known to have this engine yet.</p>
      ) : (
        <Outlook {...{ family, formats, having }} outlook={outlookOfDraft(ground, new Date())} />
      )}
      {unnamed > 0 && (
        <p>
          Of {formats.count(unnamed)} vehicle{unnamed === 1 ? '' : 's'} nobody has said which engine{' '}
          {unnamed === 1 ? 'it has' : 'they have'}: where it is this one, say so on the vehicle’s page, under
          “change”.
        </p>
      )}
    </section>
  )
}

type OutlookProps = Props & { having: number; outlook: DraftOutlook }

function Outlook({ family, formats, having, outlook }: OutlookProps) {
  const nameOf = (key: string) => family.weakPoints.find((each) => each.key === key)?.component ?? key
  return (
    <>
      <p>{aheadSentence(outlook, having, formats)}</p>
      {having > MOST_VEHICLES && (
        <p>
          Of the {formats.count(having)} vehicles, the first {formats.count(MOST_VEHICLES)} were reckoned
          here.
        </p>
      )}
      <p>
        The chances are those of the part that leads, within {horizonWords(outlook.horizonDays)} if nothing is
        done, as of {formats.day(outlook.asOf)}. They rest on what you stated and on the vehicles’ records.
      </p>
      <ol className={own.ahead}>
        {outlook.scores.slice(0, LISTED).map(({ unit, advice, leading }) => (
          <li key={unit}>
            <Link href={`/vehicles/${encodeURIComponent(unit)}`}>{unit}</Link>: {ADVICE[advice]};{' '}
            {nameOf(leading.weakPoint)},{' '}
            <data value={leading.pFail}>{chanceInBand(leading, formats.count)}</data>
          </li>
        ))}
      </ol>
    </>
  )
}
