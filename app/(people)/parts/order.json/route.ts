import { jsonOf } from '../../twins/answer-twin'
import { orderTwin } from '../parts-told'

export const GET = jsonOf(orderTwin)
