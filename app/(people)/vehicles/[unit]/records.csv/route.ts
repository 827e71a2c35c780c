import { csvOf } from '../../../twins/answer-twin'
import { recordsTwin } from '../vehicle-told'

export const GET = csvOf(recordsTwin)
