import { jsonOf } from '../../../twins/answer-twin'
import { filesTwin } from '../../intake-told'

export const GET = jsonOf(filesTwin)
