import type { ReactNode } from 'react'
import type { Family } from '@/lib/records/library'
import { RIVALS } from '@/lib/replay/judge'
import type { Replay } from '@/lib/replay/replay'
import { trackReport } from '@/lib/replay/track-report'
import { verdictSentence } from '@/lib/replay/verdict'
import type { ReplayHead } from '@/lib/store/read/track-record'
import type { Formats } from '../../ui/formats'
import { RIVAL_WORDS } from '../../ui/told-words'
import { ClassFigure } from './class-figure'
import { ForecasterTable } from './forecaster-table'
import { FoundFigure } from './found-figure'
import { HowMeasured } from './how-measured'
import { MoneyTable } from './money-table'
import { orderSentence, rivalSentence } from './sentences'
import styles from './track-record.module.css'
import type { WeakPointView } from './view'
import { WeakPointTable } from './weak-point-table'

type Props = {
  replay: Replay
  latest: ReplayHead
  /** Of the library in force, for the names of what was looked at. */
  families: Family[]
  versionInForce: number | null
  view: WeakPointView
  formats: Formats
  /** What can be done about it. */
  children: ReactNode
}

/** What came out of looking back, the answer first. */
export function Report({ replay, latest, families, versionInForce, view, formats, children }: Props) {
  const report = trackReport(replay)
  const name = namesOf(families)
  const rows = report.weakPoints.map((one) => ({ ...one, ...name(one.family, one.weakPoint) }))
  const { libraryVersion } = latest
  return (
    <>
      <p className={styles.verdict}>
        {verdictSentence(report.verdict, (family, weakPoint) => {
          const { name: component, familyName } = name(family, weakPoint)
          return `${lowerFirst(component)} of ${familyName}`
        })}
      </p>
      {versionInForce !== libraryVersion && (
        <p className={styles.lead}>
          This is what version {libraryVersion} of the library would have said; version {versionInForce} is in
          force. Look back again to hear of that one.
        </p>
      )}
      {children}
      <section aria-labelledby="found">
        <h2 id="found">Expected and found</h2>
        <FoundFigure report={report} formats={formats} />
      </section>
      <section aria-labelledby="classes">
        <h2 id="classes">Whether a chance means what it says</h2>
        <ClassFigure report={report} formats={formats} />
      </section>
      <section aria-labelledby="rivals">
        <h2 id="rivals">Against plainer ways to know</h2>
        <p className={styles.lead}>{orderSentence(report.forecasters.product, formats)}</p>
        <dl className={styles.rivals}>
          {RIVALS.map((rival) => (
            <div key={rival}>
              <dt>{RIVAL_WORDS[rival]}</dt>
              <dd>{rivalSentence(rival, report.rivals[rival], formats)}</dd>
            </div>
          ))}
        </dl>
        <ForecasterTable report={report} formats={formats} />
      </section>
      <section aria-labelledby="money">
        <h2 id="money">In money and in failures</h2>
        <MoneyTable report={report} formats={formats} />
      </section>
      <section aria-labelledby="weak-points">
        <h2 id="weak-points">Weak point by weak point</h2>
        <WeakPointTable rows={rows} view={view} formats={formats} />
      </section>
      <HowMeasured {...{ libraryVersion, formats }} days={replay.days} learned={replay.learned} />
      <p className={styles.file}>
        <a href="/track-record.json" download>
          Everything here as a file (JSON)
        </a>
      </p>
    </>
  )
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)

/** What people call a weak point and its engine; one that the library has no more goes by its key. */
function namesOf(families: Family[]) {
  return (family: string, weakPoint: string) => {
    const known = families.find(({ key }) => key === family)
    const component = known?.weakPoints.find(({ key }) => key === weakPoint)?.component
    return { name: component ?? weakPoint, familyName: known?.name ?? family }
  }
}
