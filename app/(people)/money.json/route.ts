import { moneyTwin } from '../money/money-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(moneyTwin)
