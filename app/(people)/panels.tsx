import Form from 'next/form'
import type { ReactNode } from 'react'
import type { WatchlistChoices } from '@/lib/store/read/watchlist-choices'
import {
  CHANGES,
  VEHICLE_STATUSES,
  WATCHLIST_COLUMNS,
  WATCHLIST_MARKS,
} from '@/lib/store/read/watchlist-query'
import { STANDINGS } from '@/lib/store/standing'
import { Link } from '../ui/link'
import { STATUSES } from '../ui/record-words'
import { ADVICE, CHANGE_WORDS, COLUMNS, MARKS } from '../ui/words'
import { HiddenView } from './hidden-view'
import type { PageView } from './page-view'
import styles from './panels.module.css'
import { addressOf, BARE_COLUMNS } from './view'

type Option = { value: string; label: ReactNode }

/** Several filters at once; each list asks for any of what is ticked in it. */
export function FilterPanel({ choices, ...page }: PageView & { choices: WatchlistChoices }) {
  const { view } = page
  const options = <Word extends string>(words: readonly Word[], label: (word: Word) => string): Option[] =>
    words.map((word) => ({ value: word, label: label(word) }))
  const same = (names: readonly string[]) => options(names, (name) => name)
  const families = choices.families.map(({ key, name }) => ({ value: key, label: name }))
  const lists: [legend: string, name: string, options: Option[], chosen: readonly string[]][] = [
    ['Advice', 'advice', options(STANDINGS, (each) => ADVICE[each]), view.standings],
    ['Only what is', 'has', options(WATCHLIST_MARKS, (each) => MARKS[each]), view.marks],
    ['Engine', 'family', families, view.families],
    ['Weak point', 'weak_point', same(choices.weakPoints), view.weakPoints],
    ['Site', 'site', same(choices.sites), view.sites],
    ['Status', 'status', options(VEHICLE_STATUSES, (each) => STATUSES[each]), view.statuses],
    ...(view.since === null
      ? []
      : [
          [
            'What changed',
            'changed',
            options(CHANGES, (each) => CHANGE_WORDS[each].filter),
            view.changes,
          ] as [string, string, Option[], readonly string[]],
        ]),
  ]
  return (
    <Form action="/" scroll={false} className={styles.panel} aria-label="Filters">
      <HiddenView {...page} but={[...lists.map(([, name]) => name), 'customer']} />
      <div className={styles.lists}>
        {lists.map(([legend, name, all, chosen]) => (
          <Choices key={name} {...{ legend, name, chosen }} options={all} />
        ))}
        <label className={styles.text}>
          Customer, by the whole name
          <input type="text" name="customer" defaultValue={view.customers[0]} autoComplete="off" />
        </label>
      </div>
      <button type="submit">Show these</button>
    </Form>
  )
}

/** Which columns stand in the table, each with what it says in one sentence. */
export function ColumnPanel(page: PageView) {
  const { view, ownDistance } = page
  const options = WATCHLIST_COLUMNS.filter((column) => column !== 'unit').map((column) => ({
    value: column,
    label: (
      <>
        {COLUMNS[column].heading}
        <small>{COLUMNS[column].meaning}</small>
      </>
    ),
  }))
  return (
    <Form action="/" scroll={false} className={styles.panel} aria-label="Columns">
      <HiddenView {...page} but={['columns']} and={[['columns', 'unit']]} />
      <Choices
        legend="Columns beside the vehicle"
        name="columns"
        options={options}
        chosen={view.columns}
        wide
      />
      <button type="submit">Show these columns</button>
      <Link href={addressOf({ ...view, columns: BARE_COLUMNS }, ownDistance)} scroll={false}>
        The columns as they were at first
      </Link>
    </Form>
  )
}

type ChoicesProps = {
  legend: string
  name: string
  options: Option[]
  chosen: readonly string[]
  wide?: boolean
}

function Choices({ legend, name, options, chosen, wide }: ChoicesProps) {
  if (options.length === 0) return null
  return (
    <fieldset className={styles.choices} data-wide={wide}>
      <legend>{legend}</legend>
      <ul key={chosen.join()}>
        {options.map(({ value, label }) => (
          <li key={value}>
            <label>
              <input type="checkbox" name={name} value={value} defaultChecked={chosen.includes(value)} />
              <span>{label}</span>
            </label>
          </li>
        ))}
      </ul>
    </fieldset>
  )
}
