import { jsonOf } from '../../../twins/answer-twin'
import { signsTwin } from '../../families-told'

export const GET = jsonOf(signsTwin)
