import { jsonOf } from '../../twins/answer-twin'
import { policiesTwin } from '../money-told'

export const GET = jsonOf(policiesTwin)
