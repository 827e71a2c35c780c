import { csvOf } from '../../../twins/answer-twin'
import { filesTwin } from '../../intake-told'

export const GET = csvOf(filesTwin)
