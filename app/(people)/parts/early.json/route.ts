import { jsonOf } from '../../twins/answer-twin'
import { earlyTwin } from '../early-told'

export const GET = jsonOf(earlyTwin)
