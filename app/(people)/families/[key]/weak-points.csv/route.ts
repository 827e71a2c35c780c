import { csvOf } from '../../../twins/answer-twin'
import { weakPointsTwin } from '../../families-told'

export const GET = csvOf(weakPointsTwin)
