import { csvOf } from '../../twins/answer-twin'
import { earlyTwin } from '../early-told'

export const GET = csvOf(earlyTwin)
