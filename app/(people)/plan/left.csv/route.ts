import { csvOf } from '../../twins/answer-twin'
import { leftTwin } from '../plan-told'

export const GET = csvOf(leftTwin)
