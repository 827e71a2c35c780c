import { csvOf } from '../../twins/answer-twin'
import { orderTwin } from '../parts-told'

export const GET = csvOf(orderTwin)
