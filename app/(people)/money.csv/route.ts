import { moneyTwin } from '../money/money-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(moneyTwin)
