import Form from 'next/form'
import { Link } from '../ui/link'
import { TwinLinks } from '../ui/twin-links'
import { ROW_KINDS } from '../ui/words'
import { FilterChips } from './filter-chips'
import { HiddenView } from './hidden-view'
import type { PageView } from './page-view'
import { addressOf, isNarrowed, type Panel, unfiltered, type View } from './view'
import styles from './watchlist.module.css'

type Props = PageView & {
  shown: number
  of: number
  panel: Panel | null
  /** The names of the engine families that the list is narrowed to, by their keys. */
  engines: ReadonlyMap<string, string>
}

/** Search, what narrows the list now, and how it is shown. */
export function Finder({ shown, of, panel, engines, ...page }: Props) {
  const { view, ownDistance, formats } = page
  const things = view.per === 'vehicle' ? 'vehicles' : 'weak points'
  const narrowed = isNarrowed(view)
  return (
    <>
      <search className={styles.finder}>
        <Form action="/" scroll={false}>
          <HiddenView {...page} but={['q']} />
          <label className="for-ears" htmlFor="find">
            Find vehicles
          </label>
          <input
            key={view.search}
            id="find"
            className={styles.find}
            type="search"
            name="q"
            defaultValue={view.search}
            placeholder="Find a vehicle, site, customer, weak point"
            autoComplete="off"
          />
        </Form>
        <PanelLink {...page} panel="filters" open={panel} label="Filters" />
        <PanelLink {...page} panel="columns" open={panel} label="Columns" />
        <Switch {...page} />
        <p role="status" className={styles.found}>
          {narrowed && view.per === 'vehicle'
            ? `${formats.count(shown)} of ${formats.count(of)} ${things}`
            : `${formats.count(shown)} ${things}`}
        </p>
        <TwinLinks csv={addressOf(view, ownDistance, '/watchlist.csv')} of="this list" />
      </search>
      {narrowed && (
        <div className={styles.chips}>
          <FilterChips {...page} engines={engines} />
          <Link href={addressOf(unfiltered(view), ownDistance)} scroll={false}>
            Show all
          </Link>
        </div>
      )}
    </>
  )
}

/** Opens a part of the page that is closed, or closes it. */
export function PanelLink({
  view,
  ownDistance,
  panel,
  open,
  label,
}: PageView & { panel: Panel; open: Panel | null; label: string }) {
  const isOpen = open === panel
  return (
    <Link
      className={styles.tool}
      href={addressOf(view, ownDistance, '/', { panel: isOpen ? null : panel })}
      aria-current={isOpen ? 'true' : undefined}
      scroll={false}
    >
      {isOpen ? `Close ${label.toLowerCase()}` : label}
    </Link>
  )
}

/** A row a vehicle or a row a weak point; airy or dense. Weak points for which nothing is due are left out at first. */
function Switch({ view, ownDistance }: PageView) {
  const asking: View['standings'] = ['stop', 'book', 'check', 'watch']
  const other: View =
    view.per === 'vehicle'
      ? { ...view, per: 'weak-point', standings: view.standings.length > 0 ? view.standings : asking }
      : { ...view, per: 'vehicle', standings: view.standings.length === asking.length ? [] : view.standings }
  const dense = view.density === 'dense'
  return (
    <>
      <Link className={styles.tool} href={addressOf(other, ownDistance)} scroll={false}>
        {ROW_KINDS[other.per]}
      </Link>
      <Link
        className={styles.tool}
        href={addressOf({ ...view, density: dense ? 'airy' : 'dense' }, ownDistance)}
        scroll={false}
      >
        {dense ? 'airy rows' : 'dense rows'}
      </Link>
    </>
  )
}
