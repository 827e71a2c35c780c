import { csvOf } from '../../../twins/answer-twin'
import { rejectedTwin } from '../../intake-told'

export const GET = csvOf(rejectedTwin)
