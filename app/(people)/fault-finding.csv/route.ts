import { faultTwin } from '../fault-finding/fault-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(faultTwin)
