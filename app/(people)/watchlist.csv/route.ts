import { csvOf } from '../twins/answer-twin'
import { watchlistTwin } from '../watchlist-told'

export const GET = csvOf(watchlistTwin)
