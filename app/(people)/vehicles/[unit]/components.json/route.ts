import { jsonOf } from '../../../twins/answer-twin'
import { componentsTwin } from '../vehicle-told'

export const GET = jsonOf(componentsTwin)
