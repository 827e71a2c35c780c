import { jsonOf } from '../../twins/answer-twin'
import { causesTwin } from '../fault-told'

export const GET = jsonOf(causesTwin)
