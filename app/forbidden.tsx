import { Link } from './ui/link'
import { PlainPage } from './ui/plain-page'

/** Whoever is here may not do that; who may is listed in the settings. */
export default function Forbidden() {
  return (
    <PlainPage>
      <h1>Your role here does not include that</h1>
      <p>
        The owner of the organisation can do it, or give you another role: the{' '}
        <Link href="/settings">settings</Link> list who that is. <Link href="/">To the watchlist</Link>
      </p>
    </PlainPage>
  )
}
