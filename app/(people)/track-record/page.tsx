import type { Metadata } from 'next'
import { knownReplay } from '@/lib/jobs/known-replay'
import { can } from '@/lib/people/permissions'
import { minutesFor, planBetween } from '@/lib/replay/default-plan'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readSettings } from '@/lib/store/read/settings'
import { readSpanOfRecords } from '@/lib/store/read/span-of-records'
import { readTerms } from '@/lib/store/read/terms'
import { readTrackRecord } from '@/lib/store/read/track-record'
import { readVehiclesByFamily } from '@/lib/store/read/vehicles-by-family'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { PAGE_NAMES } from '../../ui/page-words'
import { Asking } from './asking'
import { NothingToLookBackOn } from './empty'
import { PastReplays } from './past-replays'
import { Report } from './report'
import styles from './track-record.module.css'
import { type SearchParameters, weakPointView } from './view'

export const metadata: Metadata = { title: PAGE_NAMES.trackRecord }

/** How right the scores of past days would have been, and what acting on them would have been worth. */
export default async function TrackRecordPage({ searchParams }: { searchParams: Promise<SearchParameters> }) {
  const { database, organisation, role } = await requirePerson()
  const { terms, settings, known, span, vehicles, record, replay } = await withOrganisation(
    database,
    organisation,
    async (scope) => {
      const record = await readTrackRecord(scope)
      return {
        terms: await readTerms(scope),
        settings: await readSettings(scope),
        known: await readKnownLibrary(scope),
        span: await readSpanOfRecords(scope),
        vehicles: await readVehiclesByFamily(scope),
        record,
        replay: record.latest && (await knownReplay(scope, record.latest.id)),
      }
    },
  )
  const formats = formatsFor(terms, terms.distance)
  const { latest, history } = record
  const days = settings.adviceHorizonDays
  const families = known?.library.families ?? []
  const today = dayIn(settings.timeZone, new Date())
  const canLookBack = families.length > 0 && span !== null && planBetween(span, today, days) !== null
  const minutes = minutesFor({
    weakPoints: families.reduce((sum, { weakPoints }) => sum + weakPoints.length, 0),
    vehicles: [...vehicles.values()].reduce((sum, count) => sum + count, 0),
  })

  return (
    <Frame
      here="trackRecord"
      asOf={latest && replay ? `As of ${formats.longDay(latest.asOf)}` : null}
      choices={[]}
    >
      <h1 className={styles.title}>{PAGE_NAMES.trackRecord}</h1>
      {!replay && canLookBack && !record.job && (
        <p className={styles.lead}>
          {latest
            ? 'What came out the last time is kept in another form than this page reads. Look back again.'
            : 'Nobody has looked back yet. The records are rewound to past days, scored as was possible then, and held against what happened: then you know whether to trust the scores, and where not.'}
        </p>
      )}
      {!canLookBack && !latest && (
        <NothingToLookBackOn {...{ span, days, formats }} hasLibrary={families.length > 0} />
      )}
      {latest && replay && (
        <Report
          {...{ replay, latest, families, formats }}
          versionInForce={known?.version ?? null}
          view={weakPointView(await searchParams)}
        >
          <Asking record={record} minutes={minutes} mayAsk={can(role, 'plan')} />
        </Report>
      )}
      {!replay && <Asking record={record} minutes={minutes} mayAsk={can(role, 'plan') && canLookBack} />}
      {history.length > 1 && <PastReplays history={history.slice(1)} formats={formats} />}
    </Frame>
  )
}
