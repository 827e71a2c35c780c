import { jsonOf } from '../../../twins/answer-twin'
import { asideTwin } from '../set-aside/aside-told'

export const GET = jsonOf(asideTwin)
