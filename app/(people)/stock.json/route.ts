import { stockTwin } from '../stock/stock-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(stockTwin)
