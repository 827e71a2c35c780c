import { csvOf } from '../../../twins/answer-twin'
import { saleTwin } from '../before-sale/sale-told'

export const GET = csvOf(saleTwin)
