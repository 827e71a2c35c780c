import { stockTwin } from '../stock/stock-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(stockTwin)
