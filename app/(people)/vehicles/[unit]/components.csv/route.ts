import { csvOf } from '../../../twins/answer-twin'
import { componentsTwin } from '../vehicle-told'

export const GET = csvOf(componentsTwin)
