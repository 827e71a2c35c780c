import { csvOf } from '../twins/answer-twin'
import { visitsTwin } from '../visits/visits-told'

export const GET = csvOf(visitsTwin)
