import { jsonOf } from '../../../twins/answer-twin'
import { rejectedTwin } from '../../intake-told'

export const GET = jsonOf(rejectedTwin)
