import type { ReactNode } from 'react'
import { type Act, can } from '@/lib/people/permissions'
import { whoAsks } from '../require-person'
import styles from './frame.module.css'
import { GroundSwitch } from './ground-switch'
import { Link } from './link'
import { Mark } from './mark'
import { NEW_VEHICLE, PAGE_GROUPS, PAGE_NAMES } from './page-words'
import { PersonMenu } from './person-menu'

/** A choice at the top of the page: each option is an address, one of them is where we are. */
export type Choice = { name: string; options: { label: string; address: string; chosen: boolean }[] }

/** The pages by what people come for; in the order in which a day asks for them. */
const GROUPS = [
  {
    key: 'work',
    pages: [
      { key: 'watchlist', address: '/' },
      { key: 'digest', address: '/digest' },
      { key: 'visits', address: '/visits' },
      { key: 'plan', address: '/plan' },
      { key: 'looks', address: '/looks' },
      { key: 'faultFinding', address: '/fault-finding' },
      { key: 'reports', address: '/reports' },
      { key: 'parts', address: '/parts' },
      { key: 'atVehicle', address: '/at' },
    ],
  },
  {
    key: 'people',
    pages: [
      { key: 'proposals', address: '/proposals' },
      { key: 'calls', address: '/calls' },
    ],
  },
  {
    key: 'sale',
    pages: [
      { key: 'stock', address: '/stock' },
      { key: 'bid', address: '/bid' },
    ],
  },
  {
    key: 'knowledge',
    pages: [
      { key: 'families', address: '/families' },
      { key: 'trackRecord', address: '/track-record' },
      { key: 'money', address: '/money' },
    ],
  },
  {
    key: 'house',
    pages: [
      { key: 'intake', address: '/intake' },
      { key: 'labels', address: '/labels' },
      { key: 'settings', address: '/settings' },
      { key: 'audit', address: '/audit' },
    ],
  },
] as const
type PageKey = (typeof GROUPS)[number]['pages'][number]['key']

/** Pages that are not for everybody. */
const NEEDED: Partial<Record<PageKey, Act>> = { audit: 'read-audit' }

type Props = {
  /** The page that we are on, of those named at the left. */
  here?: PageKey
  /** "As of …": every number on the page is. */
  asOf: string | null
  choices: Choice[]
  /** What stands beside the page, under its name. */
  aside?: ReactNode
  children: ReactNode
}

/** Left: where you are. Top: organisation, what the numbers are told in, and who is here. */
export async function Frame({ here, asOf, choices, aside, children }: Props) {
  const asked = await whoAsks()
  const present = asked.ok ? asked.present : null
  const isFor = (key: PageKey) => {
    const act = NEEDED[key]
    return act === undefined || (present !== null && can(present.role, act))
  }
  return (
    <div className={styles.frame}>
      <a className={styles.skip} href="#main">
        Skip to the page
      </a>
      <header className={styles.top}>
        <p className={styles.organisation}>{present?.organisationName}</p>
        {present && <PersonMenu present={present} />}
        {asOf !== null && <p className={styles.asOf}>{asOf}</p>}
        <div className={styles.choices}>
          {choices.map((choice) => (
            <ChoiceLinks key={choice.name} choice={choice} />
          ))}
          <GroundSwitch />
        </div>
      </header>
      <aside className={styles.side} aria-label="Where you are">
        <div className={styles.sideInner}>
          <p className={styles.name}>
            <Mark />
            Gudgeon
          </p>
          <nav className={styles.pages} aria-label="Pages">
            {GROUPS.map(({ key: group, pages }) => (
              <div key={group} className={styles.group}>
                <p className={styles.groupName}>{PAGE_GROUPS[group]}</p>
                {pages
                  .filter(({ key }) => isFor(key))
                  .map(({ key, address }) => (
                    <Link
                      key={key}
                      className={styles.page}
                      href={address}
                      aria-current={here === key ? 'page' : undefined}
                    >
                      {PAGE_NAMES[key]}
                    </Link>
                  ))}
              </div>
            ))}
          </nav>
          {present && can(present.role, 'enter-records') && (
            <Link className={styles.newVehicle} href="/new-vehicle">
              {NEW_VEHICLE}
            </Link>
          )}
          {aside}
        </div>
      </aside>
      <main id="main" className={styles.main} tabIndex={-1}>
        {children}
      </main>
    </div>
  )
}

function ChoiceLinks({ choice }: { choice: Choice }) {
  return (
    <nav className={styles.choice} aria-label={choice.name}>
      {choice.options.map(({ label, address, chosen }) => (
        <Link key={label} href={address} aria-current={chosen ? 'true' : undefined} scroll={false}>
          {label}
        </Link>
      ))}
    </nav>
  )
}
