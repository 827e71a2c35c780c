import { csvOf } from '../../twins/answer-twin'
import { policiesTwin } from '../money-told'

export const GET = csvOf(policiesTwin)
