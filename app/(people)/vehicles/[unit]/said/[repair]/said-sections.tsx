import type { Told, WhatWeSaid } from '@/lib/jobs/what-we-said'
import { AdviceMark } from '../../../../../ui/advice-mark'
import { ChanceDot } from '../../../../../ui/chance-dot'
import type { Formats } from '../../../../../ui/formats'
import { SAID_COLUMNS, WORKED_OUT } from '../../../../../ui/told-words'
import styles from './said.module.css'
import { bandWords, cameTrueWords, followedWords, keptWords, knownWords, unlookedWords } from './said-words'

type Props = { said: WhatWeSaid; formats: Formats }

/** What was said, and apart from it what is worked out afterwards for the time before scores were kept. */
export function SaidSections({ said, formats }: Props) {
  const { kept, workedOut, keptFrom } = said
  return (
    <>
      <section className={styles.section} aria-labelledby="kept">
        <h2 id="kept">Said</h2>
        <p>{keptWords(said, formats)}</p>
        {kept.length > 0 && <SaidTable {...{ said, formats }} days={kept} caption="What was said" />}
      </section>
      {workedOut.length > 0 && (
        <section className={styles.section} aria-labelledby="worked-out">
          <h2 id="worked-out">Not said then: {WORKED_OUT}</h2>
          <p>
            {keptFrom !== null && `Before ${formats.day(keptFrom)} no score was kept. `}
            What would have been said on these days, scored from the records as they stood: nothing dated or
            written down later is seen, and nothing learned, for that would have known how it ended. The
            library and the settings are today’s. A row of a file counts as written down on its own day,
            unless it says otherwise.
          </p>
          <SaidTable {...{ said, formats }} days={workedOut} caption={`Chances ${WORKED_OUT}`} />
        </section>
      )}
    </>
  )
}

type TableProps = Props & { days: Told[]; caption: string }

function SaidTable({ said, formats, days, caption }: TableProps) {
  const { cameTrue, ...others } = SAID_COLUMNS
  const columns = said.replayedTo === null ? others : SAID_COLUMNS
  const rows = days.map((told) => wordsOf(told, said, formats))
  return (
    <table className={styles.table}>
      <caption className="for-ears">{caption}</caption>
      <thead>
        <tr>
          {Object.entries(columns).map(([key, heading]) => (
            <th key={key} scope="col">
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {days.map((told, i) => (
          <Row key={`${told.asOf} ${told.saidAt?.getTime()}`} {...{ told, formats }}>
            {said.replayedTo !== null && <td data-label={cameTrue}>{rows[i]!.cameTrue}</td>}
            <td data-label={others.known}>{orAsAbove(rows, i, 'known')}</td>
            <td data-label={others.unlooked}>{orAsAbove(rows, i, 'unlooked')}</td>
            <td data-label={others.followed}>{orAsAbove(rows, i, 'followed')}</td>
          </Row>
        ))}
      </tbody>
    </table>
  )
}

type Words = Record<'known' | 'unlooked' | 'followed' | 'cameTrue', string>

const wordsOf = (told: Told, { hasSigns }: WhatWeSaid, formats: Formats): Words => ({
  known: knownWords(told, formats),
  unlooked: unlookedWords(told.known, hasSigns, formats),
  followed: followedWords(told, formats),
  cameTrue: cameTrueWords(told.cameTrue, formats),
})

/** What is the same as on the day before stands there once. */
const orAsAbove = (rows: Words[], i: number, name: keyof Words) =>
  i > 0 && rows[i - 1]![name] === rows[i]![name] ? (
    <span className={styles.soft}>as above</span>
  ) : (
    rows[i]![name]
  )

function Row({ told, formats, children }: { told: Told; formats: Formats; children: React.ReactNode }) {
  const { asOf, saidAt, advice, pFail, pLow, pHigh } = told
  return (
    <tr>
      <th scope="row">
        {formats.day(asOf)}
        {saidAt === null && <small>{WORKED_OUT}</small>}
      </th>
      <td data-label={SAID_COLUMNS.advice}>
        <AdviceMark standing={advice} />
      </td>
      <td data-label={SAID_COLUMNS.chance}>
        <div className={styles.chance}>
          <ChanceDot {...{ pFail, pLow, pHigh, formats }} standing={advice} />
        </div>
        <small aria-hidden="true">{bandWords({ pLow, pHigh }, formats)}</small>
      </td>
      {children}
    </tr>
  )
}
