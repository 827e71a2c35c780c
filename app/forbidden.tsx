import { Frame } from './ui/frame'
import { Link } from './ui/link'

/** Whoever is here may not do that; who may is listed in the settings. */
export default function Forbidden() {
  return (
    <Frame asOf={null} choices={[]}>
      <h1>Your role here does not include that</h1>
      <p>
        The owner of the organisation can do it, or give you another role: the{' '}
        <Link href="/settings">settings</Link> list who that is. <Link href="/">To the watchlist</Link>
      </p>
    </Frame>
  )
}
