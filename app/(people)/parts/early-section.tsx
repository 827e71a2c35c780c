import { type PartGroup, whoCarried } from '@/lib/decisions/early-failures'
import { type EarlyPart, earlyPartsNow } from '@/lib/jobs/early-parts'
import { readPrices } from '@/lib/store/read/prices'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { PAID_BY } from '../../ui/record-words'
import { TwinLinks } from '../../ui/twin-links'
import { WatchProgress } from '../intake/watch-progress'
import styles from './parts.module.css'
import { lookedAtWords, oddsWords } from './parts-words'

/** Which suppliers' or batches' parts went earlier than their kind lets expect, who carried it, and who still has one. */
export async function EarlySection({ formats, now }: { formats: Formats; now: Date }) {
  const { database, organisation } = await requirePerson()
  const { found, working, waiting } = await earlyPartsNow(database, organisation, now)
  const prices = await withOrganisation(database, organisation, readPrices)
  const labourRate = prices?.labourRate ?? 0
  return (
    <section className={styles.section} aria-labelledby="early">
      <h2 id="early">Parts that fail early</h2>
      {waiting && (
        <p role="status" className={styles.notice}>
          Vehicles are being scored anew; parts are gone through when that is done
          {found === null ? '.' : ', and what is told here is from the last time.'}
        </p>
      )}
      {working !== null && (
        <div role="status" className={styles.notice}>
          <p>
            <progress
              max={Math.max(working.total, 1)}
              value={working.done}
              aria-label="Vehicles gone through"
            />{' '}
            {formats.count(working.done)} of {formats.count(working.total)} vehicles gone through
            {found === null ? '.' : '; what is told here is from the last time.'}
          </p>
          <noscript>
            <a href="/parts">See how far it is now</a>
          </noscript>
          <WatchProgress />
        </div>
      )}
      {found !== null && (
        <>
          {found.alarms.length === 0 ? (
            <p>
              {found.parts === 0
                ? NOTHING_NAMED
                : 'None: no supplier’s and no batch’s parts went earlier than is known of their kind.'}
            </p>
          ) : (
            <>
              <Alarms {...{ alarms: found.alarms, labourRate, formats }} />
              <p>
                <TwinLinks csv="/parts/early.csv" of="the parts that fail early" />
              </p>
            </>
          )}
          {found.parts > 0 && (
            <>
              <p className={styles.soft}>{lookedAtWords(found, formats)}</p>
              <p className={styles.soft}>
                Failed, and found going, both count; what was expected rests on the life that was learned of
                the kind, or stated where nothing was. It is a reason to ask the supplier, not a proof: one
                yard or one use may be hard on its parts.
              </p>
            </>
          )}
        </>
      )}
    </section>
  )
}

const NOTHING_NAMED =
  'Nothing can be said yet: no repair on record names the supplier or the batch of a part that was put in.'

type AlarmsProps = { alarms: PartGroup<EarlyPart>[]; labourRate: number; formats: Formats }

function Alarms({ alarms, labourRate, formats }: AlarmsProps) {
  return (
    <table className={table.table}>
      <caption className="for-ears">
        Parts that went earlier than was to be expected, the least likely first
      </caption>
      <thead>
        <tr>
          <th scope="col">Part</th>
          <th scope="col">Supplier, batch</th>
          <th scope="col" className={table.number}>
            Put in
          </th>
          <th scope="col" className={table.number}>
            Went
          </th>
          <th scope="col" className={table.number}>
            Expected
          </th>
          <th scope="col">By chance alone</th>
          <th scope="col">Who carried it</th>
          <th scope="col">Still in</th>
        </tr>
      </thead>
      <tbody>
        {alarms.map((alarm) => (
          <Alarm
            key={JSON.stringify([alarm.part, alarm.supplier, alarm.batch])}
            {...{ alarm, labourRate, formats }}
          />
        ))}
      </tbody>
    </table>
  )
}

function Alarm({
  alarm,
  labourRate,
  formats,
}: { alarm: PartGroup<EarlyPart> } & Omit<AlarmsProps, 'alarms'>) {
  const { part, parts, supplier, batch, gone, expected, chance, chanceAmongAll } = alarm
  const hasNumber = parts[0]!.hasNumber
  return (
    <tr>
      <th scope="row">
        {hasNumber ? part : parts[0]!.name} {hasNumber && <small>{parts[0]!.name}</small>}
      </th>
      <td data-label="Supplier, batch">
        {supplier ?? 'not said'}
        <small>{batch === null ? 'all of them' : `batch ${batch}`}</small>
      </td>
      <td className={table.number} data-label="Put in">
        {formats.count(parts.length)}
      </td>
      <td className={table.number} data-label="Went">
        {formats.count(gone)}
      </td>
      <td className={table.number} data-label="Expected">
        {formats.tally(expected)}
      </td>
      <td data-label="By chance alone">
        {oddsWords(chance, formats)}
        <small>the worst of all groups: {oddsWords(chanceAmongAll, formats)}</small>
      </td>
      <td className={table.wide}>
        <Carried {...{ parts, labourRate, formats }} />
      </td>
      <td className={table.wide}>
        <StillIn {...{ parts, formats }} />
      </td>
    </tr>
  )
}

type PartsProps = { parts: EarlyPart[]; formats: Formats }

function Carried({ parts, labourRate, formats }: PartsProps & { labourRate: number }) {
  const works = parts.flatMap(({ end, endedBy }) => (end === 'gone' && endedBy ? [endedBy] : []))
  const borne = whoCarried(works, labourRate)
  if (borne.length === 0) return <>nothing on record</>
  return (
    <ul>
      {borne.map(({ payer, parts: jobs, money, unpriced }) => (
        <li key={payer}>
          {payer === null ? 'payer not said' : PAID_BY[payer as keyof typeof PAID_BY]}: {formats.money(money)}
          , {jobs === 1 ? '1 job' : `${formats.count(jobs)} jobs`}
          {unpriced > 0 && `, ${formats.count(unpriced)} without a price`}
        </li>
      ))}
    </ul>
  )
}

function StillIn({ parts, formats }: PartsProps) {
  const running = parts.filter(({ end }) => end === 'running')
  const units = [...new Set(running.map(({ unit }) => unit))]
  if (units.length === 0) return <>none</>
  return (
    <details>
      <summary>
        {formats.count(running.length)} in{' '}
        {units.length === 1 ? '1 vehicle' : `${formats.count(units.length)} vehicles`}
      </summary>
      <ul className={styles.units}>
        {units.map((unit) => (
          <li key={unit}>
            <Link href={`/vehicles/${encodeURIComponent(unit)}`}>{unit}</Link>
          </li>
        ))}
      </ul>
    </details>
  )
}
