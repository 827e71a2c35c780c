import { jsonOf } from '../twins/answer-twin'
import { watchlistTwin } from '../watchlist-told'

export const GET = jsonOf(watchlistTwin)
