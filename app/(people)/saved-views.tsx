import type { SavedView } from '@/lib/store/read/saved-views'
import { KeptForm, TextField } from '../ui/kept-form'
import { Link } from '../ui/link'
import { READY_VIEWS } from '../ui/words'
import { PanelLink } from './finder'
import type { PageView } from './page-view'
import styles from './panels.module.css'
import { type ReadyView, readyView } from './ready-views'
import { bringBack, removeSavedView, renameSavedView, saveThisView } from './saved-view-actions'
import { addressOf, type Panel } from './view'
import watchlist from './watchlist.module.css'

type Props = PageView & { saved: SavedView[]; panel: Panel | null; mayWrite: boolean }

/** Views by name: everything, the ready ones, and those that somebody here has saved. */
export function Views({ saved, panel, mayWrite, ...page }: Props) {
  const { view, ownDistance } = page
  const here = addressOf(view, ownDistance)
  const ready = (Object.keys(READY_VIEWS) as ReadyView[]).map((name) => ({
    ...READY_VIEWS[name],
    address: addressOf(readyView(name, view), ownDistance),
  }))
  const all = { name: 'All', meaning: 'every vehicle, most urgent first', address: '/' }
  const named = saved.map(({ name, address }) => ({ name, meaning: 'a saved view', address }))
  return (
    <nav className={watchlist.views} aria-label="Views">
      <ul>
        {[all, ...ready, ...named].map(({ name, meaning, address }) => (
          <li key={`${name} ${address}`}>
            <Link href={address} title={meaning} aria-current={address === here ? 'page' : undefined}>
              {name}
            </Link>
          </li>
        ))}
      </ul>
      {mayWrite && <PanelLink {...page} panel="views" open={panel} label="Saved views" />}
    </nav>
  )
}

/** Saves the view that is seen; renames and removes what is saved. */
export function SavedViewsPanel({
  saved,
  removed,
  ...page
}: PageView & { saved: SavedView[]; removed: SavedView | null }) {
  const here = addressOf(page.view, page.ownDistance)
  return (
    <section className={styles.panel} aria-label="Saved views">
      {removed && (
        <form action={bringBack} className={styles.undo}>
          <p role="status">“{removed.name}” was removed.</p>
          <input type="hidden" name="id" value={removed.id} />
          <input type="hidden" name="back" value={here} />
          <button type="submit">Undo</button>
        </form>
      )}
      <KeptForm action={saveThisView} submit="Save">
        <label className={styles.text}>
          Save what you see now as
          <input type="text" name="name" autoComplete="off" />
        </label>
        <input type="hidden" name="address" value={here} />
      </KeptForm>
      <ul className={styles.saved}>
        {saved.map(({ id, name }) => (
          <li key={id}>
            <KeptForm action={renameSavedView} submit="Rename">
              <input type="hidden" name="id" value={id} />
              <TextField name="name" label={`Name of ${name}`} value={name} autoComplete="off" />
            </KeptForm>
            <form action={removeSavedView}>
              <input type="hidden" name="id" value={id} />
              <input type="hidden" name="back" value={here} />
              <button type="submit">
                Remove<span className="for-ears"> {name}</span>
              </button>
            </form>
          </li>
        ))}
      </ul>
    </section>
  )
}
