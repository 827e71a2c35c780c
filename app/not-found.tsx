import { Frame } from './ui/frame'
import { Link } from './ui/link'

export default function NotFound() {
  return (
    <Frame asOf={null} choices={[]}>
      <h1>There is no such page</h1>
      <p>
        <Link href="/">To the watchlist</Link>
      </p>
    </Frame>
  )
}
