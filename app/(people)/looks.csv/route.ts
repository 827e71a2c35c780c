import { looksTwin } from '../looks/looks-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(looksTwin)
