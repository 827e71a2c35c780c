import Form from 'next/form'
import { Fragment } from 'react'
import { CHANGES, WATCHLIST_COLUMNS } from '@/lib/store/read/watchlist-query'
import type { ChangesSince } from '@/lib/store/read/what-changed'
import { formatDay } from '@/lib/units/dates'
import { Link } from '../ui/link'
import { CHANGE_WORDS, countWord, SINCE_WORDS } from '../ui/words'
import { HiddenView } from './hidden-view'
import type { PageView } from './page-view'
import { addressOf, type Since, unfiltered, type View } from './view'
import styles from './watchlist.module.css'

/** The view with what changed since a day, and the column that says so. */
function changedSince(view: View, since: Since | null): View {
  const columns = WATCHLIST_COLUMNS.filter(
    (column) =>
      (since !== null && column === 'changed') || (column !== 'changed' && view.columns.includes(column)),
  )
  return { ...view, since, columns, changes: since === null ? [] : view.changes }
}

/** What became of the vehicles since a day, in one sentence; and the days to choose from. */
export function WhatChanged({ changes, ...page }: PageView & { changes: ChangesSince | null }) {
  const { view, ownDistance } = page
  return (
    <div className={styles.changes}>
      {changes && <ChangesSentence {...page} changes={changes} />}
      <p>
        {changes ? 'Compare with ' : 'What changed since '}
        {(Object.keys(SINCE_WORDS) as (keyof typeof SINCE_WORDS)[]).map((since, i) => (
          <Fragment key={since}>
            {i > 0 && ', '}
            <Link
              href={addressOf(changedSince(view, since), ownDistance)}
              aria-current={view.since === since ? 'true' : undefined}
              scroll={false}
            >
              {SINCE_WORDS[since]}
            </Link>
          </Fragment>
        ))}
        {view.since !== null && (
          <>
            , or{' '}
            <Link href={addressOf(changedSince(view, null), ownDistance)} scroll={false}>
              with nothing
            </Link>
          </>
        )}
      </p>
      <Form action="/" scroll={false}>
        <HiddenView {...page} view={changedSince(view, null)} and={[['columns', 'changed']]} />
        <label>
          or since{' '}
          <input
            type="date"
            name="since"
            required
            defaultValue={typeof view.since === 'object' && view.since ? formatDay(view.since.on) : undefined}
          />
        </label>
        <button type="submit">Compare</button>
      </Form>
    </div>
  )
}

function ChangesSentence({ view, ownDistance, formats, changes }: PageView & { changes: ChangesSince }) {
  const { since, keptFrom, vehicles } = changes
  if (keptFrom === null || keptFrom > since)
    return (
      <p role="status">
        Nothing to compare with on {formats.day(since)}
        {keptFrom !== null && `: scores have been kept since ${formats.day(keptFrom)}`}.
      </p>
    )
  const some = CHANGES.filter((change) => vehicles[change] > 0)
  return (
    <p role="status" className={styles.changed}>
      Since {formats.day(since)}:{' '}
      {some.length === 0
        ? 'nothing has changed'
        : some.map((change, i) => (
            <Fragment key={change}>
              {i > 0 && '; '}
              <Link href={addressOf({ ...unfiltered(view), changes: [change] }, ownDistance)}>
                {countWord(vehicles[change], formats.count)}{' '}
                {CHANGE_WORDS[change][vehicles[change] === 1 ? 'one' : 'many']}
              </Link>
            </Fragment>
          ))}
      .
    </p>
  )
}
