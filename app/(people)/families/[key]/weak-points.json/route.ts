import { jsonOf } from '../../../twins/answer-twin'
import { weakPointsTwin } from '../../families-told'

export const GET = jsonOf(weakPointsTwin)
