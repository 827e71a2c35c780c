import { jsonOf } from '../../../twins/answer-twin'
import { recordsTwin } from '../vehicle-told'

export const GET = jsonOf(recordsTwin)
