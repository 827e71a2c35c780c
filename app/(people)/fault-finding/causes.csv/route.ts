import { csvOf } from '../../twins/answer-twin'
import { causesTwin } from '../fault-told'

export const GET = csvOf(causesTwin)
