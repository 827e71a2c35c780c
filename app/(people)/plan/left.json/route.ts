import { jsonOf } from '../../twins/answer-twin'
import { leftTwin } from '../plan-told'

export const GET = jsonOf(leftTwin)
