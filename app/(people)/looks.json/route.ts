import { looksTwin } from '../looks/looks-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(looksTwin)
