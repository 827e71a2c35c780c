import { Link } from './ui/link'
import { PlainPage } from './ui/plain-page'

export default function NotFound() {
  return (
    <PlainPage>
      <h1>There is no such page</h1>
      <p>
        <Link href="/">To the watchlist</Link>
      </p>
    </PlainPage>
  )
}
