import { csvOf } from '../../../twins/answer-twin'
import { signsTwin } from '../../families-told'

export const GET = csvOf(signsTwin)
