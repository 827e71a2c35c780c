import { faultTwin } from '../fault-finding/fault-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(faultTwin)
